"""Every formula names each of its terms with its unit, and refuses what is no number; with the figures that use it."""

from __future__ import annotations

import inspect
import math
import re
from collections.abc import Callable
from importlib import import_module
from typing import Any

import pytest

from physics.test_every_formula_has_a_value import FUNCTIONS
from rigbook.physics.errors import OutOfRange

UNIT = re.compile(
    r"\b(?:Hz|kHz|MHz|m|mm|mm²|m²|m³|km|s|ms|dB\w*|dB\(A\)|dBu|dBV|dBFS|V|A|W|VA|Ω|Ω/m|kg|kPa|Pa|U|AWG|h|min|octaves?)\b"
    r"|°|%|√|\bmV/Pa\b|\b(?:ratio|share|factor|number of|how many|between 0 and 1|order|directivity|halvings)\b"
    r"|\b(?:degrees?|seconds|metres|coordinates|kind|axis)\b|\bcoefficient|\bpolar"
)
"""A unit, or the words of a term that has none."""
NUMBERS = ("float", "int", "Values", "complex")


def formula(name: str) -> Callable[..., Any]:
    module, _, own = name.rpartition(".")
    found = getattr(import_module(module), own)
    assert callable(found)
    return found


def terms(name: str) -> dict[str, str]:
    """What the docstring says of each parameter."""
    said = (inspect.getdoc(formula(name)) or "").partition("Args:")[2].partition("Returns:")[0]
    found = re.findall(r"^\s{4}(\w+(?:, \w+)*): (.+?)(?=^\s{4}\w+(?:, \w+)*: |\Z)", said, re.M | re.S)
    return {one: text for names, text in found for one in names.split(", ")}


@pytest.mark.parametrize("name", FUNCTIONS)
def test_each_term_is_named_with_its_unit(name: str) -> None:
    said = terms(name)
    parameters = inspect.signature(formula(name)).parameters
    assert sorted(set(parameters) - set(said)) == [], "terms that the docstring does not name"
    numbers = [p for p, given in parameters.items() if str(given.annotation).strip("'\"") in NUMBERS]
    assert [p for p in numbers if not UNIT.search(said[p]) and not UNIT.search(p)] == [], "terms without a unit"


@pytest.mark.parametrize("name", FUNCTIONS)
def test_what_is_no_number_gives_no_number(name: str) -> None:
    """A term that is `nan` is refused, or the result is `nan` too: never a figure."""
    parameters = inspect.signature(formula(name)).parameters
    if not parameters or any(p.annotation not in ("float", "Values") for p in parameters.values()):
        pytest.skip("not of numbers alone")
    for term in parameters:
        given = {p: math.nan if p == term else 1.0 for p in parameters}
        try:
            got = formula(name)(**given)
        except OutOfRange:
            continue
        flat = got if isinstance(got, tuple) else (got,)
        if got is False:
            continue  # a question, answered with no
        assert any(isinstance(v, (float, complex)) and v != v for v in flat), f"{term} is nan, the result {got}"
