"""The limits a plan sets for its checks, with the language's defaults where it says nothing."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

from rigbook.language.grammar import Amount, Record
from rigbook.language.keys.limits import SETTINGS
from rigbook.plan.model import Plan
from rigbook.units.parse import parse
from rigbook.units.quantity import Quantity


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
        return f"{typed} (set in this plan)" if typed is not None else self._defaults[key][1]

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
