from __future__ import annotations

import itertools

import pytest

from helpers.check_values import Row, cases, check
from helpers.oracles import oracle
from rigbook.physics.bands import OCTAVE_BANDS_HZ, band_edges, exact_mid_band, preferred_frequencies
from rigbook.physics.errors import OutOfRange


def listed(i) -> list[float]:
    return list(preferred_frequencies(i["fraction"], i["from_Hz"], i["to_Hz"]))


CALLS = {
    "07-geq31": listed,
    "07-oct": listed,
    "07-exact": lambda i: exact_mid_band(i["nominal_Hz"]),
    "07-edges": lambda i: band_edges(i["nominal_Hz"], i["fraction"]),
}
THIRDS = preferred_frequencies(3, 20, 20_000)
OCTAVES = preferred_frequencies(1, 31.5, 16_000)


@cases("bands")
def test_published(row: Row) -> None:
    check(row, CALLS)


@pytest.mark.parametrize(("fraction", "bands"), [(3, THIRDS), (1, OCTAVES)])
def test_bands_touch(fraction: int, bands: tuple[float, ...]) -> None:
    edges = [band_edges(band, fraction) for band in bands]
    for (_, upper), (lower, _) in itertools.pairwise(edges):
        assert upper == pytest.approx(lower)


@pytest.mark.parametrize("band", THIRDS)
def test_a_nominal_frequency_is_near_its_exact_one(band: float) -> None:
    assert exact_mid_band(band) == pytest.approx(band, rel=0.015)


def test_the_constant_is_part_of_the_series() -> None:
    assert preferred_frequencies(1, 63, 8000) == OCTAVE_BANDS_HZ


def test_against_pyfar() -> None:
    pyfar = oracle("pyfar")
    nominal = pyfar.constants.fractional_octave_frequencies_nominal(3, (20, 20e3))
    exact = pyfar.constants.fractional_octave_frequencies_exact(3, (20, 20e3))[0]
    assert list(THIRDS) == [pytest.approx(float(f)) for f in nominal]
    assert [exact_mid_band(f) for f in THIRDS] == [pytest.approx(float(f)) for f in exact]


@pytest.mark.parametrize(
    "call",
    [
        lambda: exact_mid_band(440),
        lambda: exact_mid_band(0),
        lambda: exact_mid_band(25_000),
        lambda: band_edges(1000, 2),
        lambda: preferred_frequencies(1, 0, 100),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
