"""Published numbers: read `tests/check_values/*.json`, call the function a row names, compare within its tolerance.

A row holds: id, function (the dotted name, or several), quantity, formula, inputs, output, unit, tolerance and why it
is what it is, source, and `read_in` (a printed table or worked example) or `recomputed_with` (a library).
Inputs and outputs stay in the units of the source; the test that reads the row turns them into SI.
"""

from __future__ import annotations

import json
import math
import re
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest

FOLDER = Path(__file__).parents[1] / "check_values"
SILENCE_DB = -100.0
Row = Mapping[str, Any]


def read(topic: str) -> list[Row]:
    """All rows of one topic."""
    rows: list[Row] = json.loads((FOLDER / f"{topic}.json").read_text(encoding="utf-8"))
    return rows


def cases(topic: str) -> Any:
    """Parametrise a test with the rows of a topic; each row's id names its case."""
    return pytest.mark.parametrize("row", [pytest.param(row, id=row["id"]) for row in read(topic)])


def every_row() -> Iterator[tuple[Path, Row]]:
    """Each row of each file."""
    for path in sorted(FOLDER.glob("*.json")):
        for row in json.loads(path.read_text(encoding="utf-8")):
            yield path, row


def functions(row: Row) -> list[str]:
    """The dotted names a row gives."""
    names = row["function"]
    return [names] if isinstance(names, str) else list(names)


def check(row: Row, calls: Mapping[str, Callable[[Any], Any]]) -> None:
    """Call what belongs to a row (`calls` by its id without the number at the end) and compare.

    Fails as well if a function that the row names was not called on the way.
    """
    got, called = _call(calls[re.sub(r"-\d+$", "", row["id"])], row["inputs"])
    missing = set(functions(row)) - called
    assert not missing, f"{row['id']} names {missing} but its test calls none of them"
    assert_close(got, row["output"], row["tolerance"], row["id"])


def assert_close(got: Any, wanted: Any, tolerance: Any, what: str = "") -> None:
    """Compare two values, sequences or mappings; a tolerance may be a sequence as well."""
    if isinstance(wanted, Mapping):
        assert got == wanted, what
    elif isinstance(wanted, Sequence) and not isinstance(wanted, str):
        assert len(got) == len(wanted), what
        for place, (one, other) in enumerate(zip(got, wanted)):
            assert_close(one, other, _at(tolerance, place), f"{what}[{place}]")
    elif wanted == "-inf":
        assert got < SILENCE_DB, what
    elif wanted is None or tolerance == "exact":
        assert got == wanted, what
    else:
        assert math.isclose(got, wanted, rel_tol=tolerance.get("rel", 0.0), abs_tol=tolerance.get("abs", 0.0)), (
            f"{what}: got {got!r}, published {wanted!r}, tolerance {tolerance}"
        )


def _at(tolerance: Any, place: int) -> Any:
    if isinstance(tolerance, Mapping):
        return {kind: limit[place] if isinstance(limit, list) else limit for kind, limit in tolerance.items()}
    return tolerance


def _call(function: Callable[[Any], Any], inputs: Any) -> tuple[Any, set[str]]:
    """Call, and note the names of all functions of the physics room that ran."""
    called: set[str] = set()

    def note(frame: Any, event: str, argument: Any) -> None:
        module = frame.f_globals.get("__name__", "")
        if event == "call" and module.startswith("rigbook.physics"):
            called.add(f"{module}.{frame.f_code.co_qualname}")

    before = sys.getprofile()
    sys.setprofile(note)
    try:
        return function(inputs), called
    finally:
        sys.setprofile(before)
