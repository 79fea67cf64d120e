"""Wire gauges against the printed table of the standard."""

from __future__ import annotations

import pytest

from rigbook.units.gauge import gauge_area_mm2, gauge_number
from rigbook.units.parse import parse
from rigbook.units.quantity import Quantity


@pytest.mark.parametrize(
    ("text", "mm2"),
    [("4/0 AWG", 107.2), ("2 AWG", 33.62), ("6 AWG", 13.30), ("10 AWG", 5.261), ("12 AWG", 3.309), ("14 AWG", 2.081),
     ("16 AWG", 1.309), ("18 AWG", 0.8230), ("24 AWG", 0.2047)],
)  # fmt: skip
def test_printed_areas(text: str, mm2: float) -> None:
    """Source: ASTM B258, table 1 as it is commonly reprinted, four figures (from memory). The tolerance is half of
    the last printed figure, widened to one, for reprints round the diameter first."""
    got = parse(text, "area")
    assert isinstance(got, Quantity)
    assert got.value * 1e6 == pytest.approx(mm2, rel=1e-3)


def test_the_ends_of_the_scale_are_defined() -> None:
    """Source: ASTM B258, section 4: 0.46 in at 4/0 and 0.005 in at 36; 39 steps between."""
    import math

    for gauge, inches in ((-3, 0.46), (36, 0.005)):
        assert gauge_area_mm2(gauge) == pytest.approx(math.pi / 4 * (inches * 25.4) ** 2, rel=1e-12)
    ratios = {round(gauge_area_mm2(n) / gauge_area_mm2(n + 1), 12) for n in range(-3, 36)}
    assert len(ratios) == 1


@pytest.mark.parametrize(
    ("text", "number"),
    [("12 AWG", 12), ("12AWG", 12), ("AWG 12", 12), ("12 awg", 12), ("0 AWG", 0), ("1/0 AWG", 0), ("4/0 AWG", -3)],
)
def test_spellings(text: str, number: int) -> None:
    got = gauge_number(text)
    assert got is not None
    assert got[1] == number


@pytest.mark.parametrize("text", ["12", "AWG", "12 mm2", "-2 AWG", "2.5 AWG", "123 AWG", "0/0 AWG", "01/0 AWG"])
def test_no_gauges(text: str) -> None:
    assert gauge_number(text) is None
