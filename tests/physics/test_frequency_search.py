from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from helpers.carriers import all_hits, closest_pair
from helpers.check_values import Row, cases, check
from rigbook.physics.errors import OutOfRange
from rigbook.physics.frequency_search import Transmitter, clean_frequencies
from rigbook.physics.intermodulation import ALL_PRODUCTS, THIRD_ORDER

MHZ = 1e6
BAND = ((500 * MHZ, 506 * MHZ),)
SPACING, GUARD = 300e3, 60e3


def search(i):
    low, high = i["band_MHz"]
    tunable = [Transmitter(f * MHZ, ((low * MHZ, high * MHZ),), i["step_MHz"] * MHZ) for f in i["wanted_MHz"]]
    found = clean_frequencies(tunable, i["spacing_MHz"] * MHZ, i["guard_MHz"] * MHZ)
    return [None if f is None else f / MHZ for f in found]


CALLS = {"12-search": search}
wanted = st.integers(20_000, 20_240).map(lambda step: step * 25e3)
tunable = st.builds(Transmitter, wanted, st.just(BAND), st.sampled_from([25e3, 100e3]))
fixed = st.builds(Transmitter, wanted)


def of_kinds(carriers: list[float], kinds: tuple[str, ...]) -> set:
    return {hit for hit in all_hits(carriers, GUARD) if hit[0] in kinds}


@cases("frequency_search")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(st.lists(tunable, max_size=8), st.sampled_from([THIRD_ORDER, ALL_PRODUCTS]))
@settings(max_examples=50, deadline=None)
def test_what_it_finds_is_clean_by_brute_force(transmitters: list[Transmitter], kinds) -> None:
    found = [f for f in clean_frequencies(transmitters, SPACING, GUARD, kinds) if f is not None]
    assert not of_kinds(found, kinds)
    assert closest_pair(found) >= SPACING


@given(st.lists(tunable, max_size=7), st.lists(fixed, max_size=3, unique_by=lambda t: t.wanted_hz))
@settings(max_examples=50, deadline=None)
def test_the_fixed_stay_and_the_others_keep_clear_of_them(movable: list[Transmitter], fixed: list[Transmitter]) -> None:
    found = clean_frequencies([*movable, *fixed], SPACING, GUARD)
    stay = [t.wanted_hz for t in fixed]
    assert list(found[len(movable) :]) == stay
    moved = [f for f in found[: len(movable)] if f is not None]
    assert len(of_kinds([*stay, *moved], THIRD_ORDER)) == len(of_kinds(stay, THIRD_ORDER))


@given(st.lists(tunable, min_size=1, max_size=6))
@settings(max_examples=30, deadline=None)
def test_each_stays_on_its_own_steps_inside_its_band(transmitters: list[Transmitter]) -> None:
    for transmitter, found in zip(transmitters, clean_frequencies(transmitters, SPACING, GUARD)):
        if found is not None:
            low, high = transmitter.bands_hz[0]
            assert low <= found <= high
            assert (found - low) % transmitter.step_hz == 0


@given(st.lists(tunable, max_size=6))
@settings(max_examples=30, deadline=None)
def test_a_clean_set_is_left_as_it_is(transmitters: list[Transmitter]) -> None:
    first = [f for f in clean_frequencies(transmitters, SPACING, GUARD) if f is not None]
    again = clean_frequencies([Transmitter(f, BAND) for f in first], SPACING, GUARD)
    assert list(again) == first


@given(st.lists(tunable, min_size=1, max_size=5), wanted)
@settings(max_examples=20, deadline=None)
def test_the_last_one_moves_no_farther_than_it_must(others: list[Transmitter], wanted_hz: float) -> None:
    placed = [Transmitter(f) for f in clean_frequencies(others, SPACING, GUARD) if f is not None]
    stay = [t.wanted_hz for t in placed]
    found = clean_frequencies([*placed, Transmitter(wanted_hz, BAND)], SPACING, GUARD)[-1]
    steps = [BAND[0][0] + 25e3 * i for i in range(241)]
    for candidate in steps:
        if found is None or abs(candidate - wanted_hz) < abs(found - wanted_hz):
            everyone = [*stay, candidate]
            assert closest_pair(everyone) < SPACING or of_kinds(everyone, THIRD_ORDER)


def test_several_bands_and_the_nearer_one_first() -> None:
    bands = ((500 * MHZ, 500.1 * MHZ), (504 * MHZ, 504.1 * MHZ))
    both = [Transmitter(500 * MHZ, bands), Transmitter(500 * MHZ, bands)]
    assert clean_frequencies(both, SPACING, GUARD) == (500 * MHZ, 504 * MHZ)


@pytest.mark.parametrize(
    "call",
    [
        lambda: clean_frequencies([], 0, GUARD),
        lambda: clean_frequencies([], SPACING, 0),
        lambda: clean_frequencies([Transmitter(0.0)], SPACING, GUARD),
        lambda: clean_frequencies([Transmitter(5e8, BAND, 0.0)], SPACING, GUARD),
        lambda: clean_frequencies([Transmitter(5e8, ((6e8, 5e8),))], SPACING, GUARD),
        lambda: clean_frequencies([Transmitter(5e8, ((1.0, 1e12),))], SPACING, GUARD),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()


def test_nothing_to_place() -> None:
    assert clean_frequencies([], SPACING, GUARD) == ()
