"""A value that a formula refuses is told in the reader's language, with the range in which the formula holds."""

from __future__ import annotations

import ast
import math
from collections.abc import Iterator
from pathlib import Path

import pytest

from helpers.tools import ROOT
from rigbook.compute.figure import Figure, Missing, worked
from rigbook.compute.refusals import QUANTITIES, refusal
from rigbook.handbook.tongues import tongue
from rigbook.physics.errors import OutOfRange
from rigbook.physics.loads import parallel_load

ROOM = ROOT / "compiler" / "rigbook"


@pytest.mark.parametrize(("value", "limits"), [
    (75.0, (-20.0, 50.0)), (3.0, (5.0, None)), (0.0, (0.0, None)), (9.0, (None, 5.0)), (5.0, (None, 5.0)),
])
def test_english_is_the_sentence_of_the_formula(value: float, limits: tuple[float | None, float | None]) -> None:
    wrong = OutOfRange("temperature", value, "°C", limits)
    assert refusal(wrong).replace("−", "-") == str(wrong)


@pytest.mark.parametrize(("language", "said"), [
    ("en", "temperature 75.5 °C is outside −20 to 50 °C, where this formula holds"),
    ("de", "Temperatur: 75,5\u00a0°C liegt außerhalb von −20 bis 50\u00a0°C, worin diese Formel gilt"),
    ("fr", "température\u00a0: 75,5\u00a0°C, hors de la plage de −20 à 50\u00a0°C où vaut cette formule"),
])
def test_each_language_says_it(language: str, said: str) -> None:
    assert tongue(language).words(refusal(OutOfRange("temperature", 75.5, "°C", (-20, 50)))) == said


def test_what_is_no_number_is_told_too() -> None:
    wrong = OutOfRange("impedance", math.inf, "Ω", (None, None))
    assert refusal(wrong) == "impedance inf Ω is not a number for which this formula holds"


def test_a_figure_that_a_formula_refuses_says_why() -> None:
    got = worked(lambda: Figure(parallel_load([0.0]), "Ω", "1/Σ(1/Z)"))
    assert got == Missing("impedance 0 Ω is not above 0 Ω, where this formula holds")
    assert tongue("de").words(got).startswith("Impedanz: 0\u00a0Ω")


def test_every_quantity_that_a_figure_may_be_refused_for_has_its_word() -> None:
    """What the formulas that stand within `worked(…)` refuse, by the names in the sources."""
    defined = {n.name: n for path in sorted(ROOM.glob("p*s/*.py")) for n in _functions(path)}
    helpers = {n.name: n for path in sorted(ROOM.glob("compute/*.py")) for n in _functions(path)}
    used = {name for path in sorted(ROOM.glob("compute/*.py")) for name in _within_worked(path)}
    used |= {name for helper in used & helpers.keys() for name in _named(helpers[helper])}
    formulas = used & defined.keys()
    formulas |= {name for formula in formulas for name in _named(defined[formula])} & defined.keys()
    names = {name for formula in formulas for name in _refused(defined[formula])}
    assert names
    assert names - QUANTITIES.keys() == set()


def _functions(path: Path) -> Iterator[ast.FunctionDef]:
    return (n for n in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(n, ast.FunctionDef))


def _named(node: ast.AST) -> set[str]:
    return {n.id for n in ast.walk(node) if isinstance(n, ast.Name)}


def _within_worked(path: Path) -> Iterator[str]:
    for n in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(n, ast.Call) and isinstance(n.func, ast.Name) and n.func.id == "worked":
            yield from _named(n)


def _refused(node: ast.AST) -> Iterator[str]:
    for n in ast.walk(node):
        if isinstance(n, ast.Call) and isinstance(n.func, ast.Name) and n.func.id in ("require", "OutOfRange"):
            match n.args[0]:
                case ast.Constant(value=str(name)):
                    yield name
