"""The limits a plan sets for its checks, with the language's defaults where it says nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from types import MappingProxyType
from typing import Final

from rigbook.language.keys.limits import SETTINGS
from rigbook.language.record import Record
from rigbook.language.values.amounts import Amount
from rigbook.plan.model import Plan
from rigbook.text.phrase import phrase
from rigbook.units.parse import parse
from rigbook.units.quantity import Quantity

SOURCES: Final[Mapping[str, str]] = MappingProxyType(
    {
        said: said
        for said in (
            phrase("common practice"),
            phrase("NEC (NFPA 70) 210.20(A); elsewhere the local code decides"),
            phrase("IEC 60364-5-52, annex G, from memory; elsewhere the local code decides"),
            phrase("IEC 60364-5-52, table B.52.14, from memory"),
            phrase("HSE (UK) INDG143, waist height, close to the body"),
            phrase("Haas 1951, as drawn in Everest, Master Handbook of Acoustics, fig. 3-19"),
            phrase("WHO 2022, global standard for venues and events, feature 1"),
        )
    }
)
"""Where defaults come from, as far as that is said in words and not by a number alone."""


class Limits:
    """Limits by their key in the language, in base units."""

    def __init__(self, plan: Plan) -> None:
        got = plan.sections.get("limits")
        self._said = got if isinstance(got, Record) else None

    def __getitem__(self, key: str) -> float:
        """The value typed, or the default, in the base unit. KeyError for a key that the language lacks."""
        typed = self._said.get(key) if self._said else None
        if typed is None:
            return self._defaults[key][0]
        return typed.value if isinstance(typed, Quantity) else float(typed)

    def __iter__(self) -> Iterator[str]:
        """Keys, in the order of the reference."""
        return (key.name for key in SETTINGS.keys)

    def typed(self, key: str) -> bool:
        """True where the plan sets the limit itself."""
        return self._said is not None and self._said.get(key) is not None

    def said(self, key: str) -> str:
        """The limit as printed, with its source where it is the default: `20 (common practice)`."""
        typed = self._said.get(key) if self._said else None
        if typed is not None:
            return phrase("%(amount)s (set in this plan)", amount=typed)
        text = self._defaults[key][1]
        amount, _, source = text.partition(" (")
        if not source:
            return text
        dimension = self._dimension(key)
        got = parse(amount, dimension) if dimension else amount
        return phrase("%(amount)s (%(source)s)", amount=got, source=SOURCES.get(source[:-1], source[:-1]))

    def _dimension(self, key: str) -> str:
        value = next(k.value for k in SETTINGS.keys if k.name == key)
        return value.dimension if isinstance(value, Amount) else ""

    @cached_property
    def _defaults(self) -> dict[str, tuple[float, str]]:
        out = {}
        for key in SETTINGS.keys:
            amount = key.default.partition(" (")[0]
            if isinstance(key.value, Amount):
                got = parse(amount, key.value.dimension)
                if not isinstance(got, Quantity):
                    raise ValueError(f"the default of the limit `{key.name}` is no amount: {amount}")
                out[key.name] = (got.value, key.default)
            else:
                out[key.name] = (float(amount), key.default)
        return out
