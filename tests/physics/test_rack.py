from __future__ import annotations

from itertools import pairwise

import pytest

from helpers.check_values import Row, cases, check
from rigbook.physics.errors import OutOfRange
from rigbook.physics.rack import hole_centres, panel_size, rack_height


def left_heights_mm(*units: int) -> list[float]:
    return [1000 * y for unit in units for _, y in hole_centres(unit)[:3]]


def pitches_mm() -> list[float]:
    return [round(above - below, 9) for below, above in pairwise(left_heights_mm(1, 2))][:3]


CONSTANTS = {
    "rack unit": lambda: round(rack_height(1) * 1000, 9),
    "rack panel width": lambda: round(panel_size(1)[0] * 1000, 9),
    "rack hole pitch within a unit": pitches_mm,
    "rack hole centres across": lambda: round((hole_centres(1)[3][0] - hole_centres(1)[0][0]) * 1000, 9),
}
CALLS = {
    "14-rack": lambda i: rack_height(i["n"]) * 1000,
    "14-panel": lambda i: [1000 * size for size in panel_size(i["n"])],
    "14-holes": lambda i: left_heights_mm(i["unit"]),
}


@cases("rack")
def test_published(row: Row) -> None:
    check(row, {**CALLS, "14-const": lambda i: CONSTANTS[row["quantity"]]()})


def test_holes_lie_on_the_panel_and_in_the_middle() -> None:
    for unit in (1, 2, 12):
        width, _ = panel_size(1)
        xs, ys = zip(*hole_centres(unit))
        assert min(xs) + max(xs) == pytest.approx(width)
        assert rack_height(unit - 1) < min(ys)
        assert max(ys) < rack_height(unit)
        assert min(ys) + max(ys) == pytest.approx(rack_height(unit - 1) + rack_height(unit))


@pytest.mark.parametrize("call", [lambda: rack_height(-1), lambda: panel_size(0), lambda: hole_centres(0)])
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
