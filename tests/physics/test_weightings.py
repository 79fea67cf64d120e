from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from helpers.oracles import oracle
from rigbook.physics.bands import OCTAVE_BANDS_HZ, exact_mid_band
from rigbook.physics.errors import OutOfRange
from rigbook.physics.sums import energy_sum
from rigbook.physics.weightings import a_weighting, c_weighting, weighted_level

CALLS = {
    "08-A": lambda i: a_weighting(exact_mid_band(i["nominal_Hz"])),
    "08-C": lambda i: c_weighting(exact_mid_band(i["nominal_Hz"])),
    "08-sumA": lambda i: weighted_level(i["L_dB"], i["bands_Hz"], "A"),
    "08-sumC": lambda i: weighted_level(i["L_dB"], i["bands_Hz"], "C"),
}

frequencies = st.floats(10, 20_000)
spectra = st.lists(st.floats(0, 130), min_size=8, max_size=8)


@cases("weightings")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(frequencies)
def test_against_pyfar(frequency: float) -> None:
    pyfar = oracle("pyfar")
    for letter, ours in (("A", a_weighting), ("C", c_weighting)):
        theirs = pyfar.constants.frequency_weighting_curve(letter, [frequency])
        assert ours(frequency) == pytest.approx(float(theirs[0]), abs=0.01)


def test_the_whole_table_against_acoustic_toolbox() -> None:
    standard = oracle("acoustic_toolbox.standards.iec_61672_1_2013")
    middles = [exact_mid_band(float(nominal)) for nominal in standard.NOMINAL_THIRD_OCTAVE_CENTER_FREQUENCIES]
    assert [a_weighting(f) for f in middles] == pytest.approx(list(standard.WEIGHTING_A), abs=0.06)
    assert [c_weighting(f) for f in middles] == pytest.approx(list(standard.WEIGHTING_C), abs=0.06)


@given(spectra)
def test_no_weighting_is_the_sum(spectrum: list[float]) -> None:
    assert weighted_level(spectrum, OCTAVE_BANDS_HZ, "Z") == pytest.approx(energy_sum(spectrum))


@given(spectra, st.floats(-40, 40))
def test_a_gain_for_all_bands_is_a_gain_for_the_level(spectrum: list[float], gain: float) -> None:
    louder = [level + gain for level in spectrum]
    before = weighted_level(spectrum, OCTAVE_BANDS_HZ)
    assert weighted_level(louder, OCTAVE_BANDS_HZ) == pytest.approx(before + gain)


def test_arrays_agree_with_floats() -> None:
    f = np.array([20.0, 125.0, 1000.0, 8000.0])
    assert a_weighting(f) == pytest.approx([a_weighting(float(one)) for one in f])
    assert c_weighting(f) == pytest.approx([c_weighting(float(one)) for one in f])
    quiet_and_loud = [np.array([70.0, 90.0])] * 8
    assert weighted_level(quiet_and_loud, OCTAVE_BANDS_HZ) == pytest.approx(
        [weighted_level([level] * 8, OCTAVE_BANDS_HZ) for level in (70.0, 90.0)]
    )


@pytest.mark.parametrize(
    "call",
    [
        lambda: a_weighting(9),
        lambda: c_weighting(20_001),
        lambda: a_weighting(np.array([100.0, 1.0])),
        lambda: weighted_level([80.0], [100.0, 200.0]),
        lambda: weighted_level([80.0], [440.0]),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
