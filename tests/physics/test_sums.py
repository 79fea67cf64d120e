from __future__ import annotations

import cmath
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from helpers.oracles import oracle
from rigbook.physics.errors import OutOfRange
from rigbook.physics.sums import coherent_gain, coherent_sum, energy_mean, energy_sum, incoherent_gain

CALLS = {
    "03-sum": lambda i: energy_sum(i["levels_dB"]),
    "03-mean": lambda i: energy_mean(i["levels_dB"]),
    "03-n-incoherent": lambda i: incoherent_gain(i["n"]),
    "03-n-coherent": lambda i: coherent_gain(i["n"]),
    "03-coherent": lambda i: coherent_sum([i["L1_dB"], i["L2_dB"]], [0.0, i["phase_deg"]]),
}

levels = st.floats(-50, 150)
several = st.lists(levels, min_size=1, max_size=12)
phases = st.floats(-720, 720)


@cases("sums")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(several, st.randoms())
def test_order_does_not_matter(values: list[float], random) -> None:
    mixed = values.copy()
    random.shuffle(mixed)
    assert energy_sum(mixed) == pytest.approx(energy_sum(values))


@given(levels, levels, levels)
def test_sums_of_sums(a: float, b: float, c: float) -> None:
    assert energy_sum([energy_sum([a, b]), c]) == pytest.approx(energy_sum([a, energy_sum([b, c])]))


@given(several, st.floats(-80, 80))
def test_a_gain_for_all_is_a_gain_for_the_sum(values: list[float], gain: float) -> None:
    assert energy_sum([v + gain for v in values]) == pytest.approx(energy_sum(values) + gain, abs=1e-9)


@given(several)
def test_at_least_the_loudest_and_at_most_all_as_loud(values: list[float]) -> None:
    total = energy_sum(values)
    assert max(values) <= total <= max(values) + incoherent_gain(len(values)) + 1e-9
    assert min(values) - 1e-9 <= energy_mean(values) <= max(values) + 1e-9


@given(st.lists(st.tuples(levels, phases), min_size=1, max_size=6))
def test_coherent_sums_against_complex_numbers(pairs: list[tuple[float, float]]) -> None:
    values, turns = [p[0] for p in pairs], [p[1] for p in pairs]
    total = abs(sum(cmath.rect(10 ** (v / 20), math.radians(t)) for v, t in pairs))
    if total > 1e-6 * 10 ** (max(values) / 20):
        assert coherent_sum(values, turns) == pytest.approx(20 * math.log10(total), abs=1e-6)


@given(several)
def test_sums_against_acoustic_toolbox(values: list[float]) -> None:
    decibel = oracle("acoustic_toolbox.decibel")
    assert energy_sum(values) == pytest.approx(float(decibel.dbsum(values)))
    assert energy_mean(values) == pytest.approx(float(decibel.dbmean(values)))


@given(st.lists(st.lists(levels, min_size=3, max_size=3), min_size=1, max_size=5))
def test_arrays_agree_with_floats(table: list[list[float]]) -> None:
    array = np.array(table)
    columns = [list(column) for column in zip(*table)]
    assert energy_sum(array) == pytest.approx([energy_sum(column) for column in columns])
    assert energy_sum(array, axis=1) == pytest.approx([energy_sum(line) for line in table])
    assert energy_sum(list(array)) == pytest.approx(energy_sum(array))
    assert energy_mean(array) == pytest.approx([energy_mean(column) for column in columns])
    in_phase = coherent_sum(array, np.zeros_like(array))
    assert in_phase == pytest.approx([coherent_sum(column, [0.0] * len(table)) for column in columns])


def test_floats_and_arrays_mix() -> None:
    grid = np.array([[80.0, 83.0], [90.0, 70.0]])
    total = energy_sum([grid, 80.0])
    assert total.shape == (2, 2)
    assert total[0, 0] == pytest.approx(83.0103, abs=1e-4)


def test_silence() -> None:
    assert energy_sum([-math.inf, -math.inf]) == -math.inf
    assert energy_sum([-math.inf, 60.0]) == 60.0
    assert coherent_sum([-math.inf], [0.0]) == -math.inf
    assert energy_sum(np.array([-math.inf, -math.inf])) == -math.inf


@pytest.mark.parametrize(
    "call",
    [
        lambda: energy_sum([]),
        lambda: energy_sum([math.nan, 1.0]),
        lambda: energy_sum([math.inf]),
        lambda: incoherent_gain(0),
        lambda: coherent_gain(0),
        lambda: coherent_sum([1.0, 2.0], [0.0]),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
