"""Metres on a sheet: round steps, names beside a drawing; for any numbers."""

from __future__ import annotations

import re
from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigbook.handbook.drawings import scale
from rigbook.handbook.drawings.scale import PITCH, Callout, View

metres = st.floats(-500, 500)
spans = st.floats(0.01, 5000)


@given(metres, metres, st.floats(0.5, 200), metres, metres)
def test_ten_metres_are_ten_times_the_scale(left: float, top: float, per_metre: float, x: float, y: float) -> None:
    view = View(left, top, 3.0, -4.0, per_metre)
    assert view.x(x + 10) - view.x(x) == pytest.approx(10 * per_metre)
    assert view.y(y + 10) - view.y(y) == pytest.approx(10 * per_metre)
    assert (view.x(3.0), view.y(-4.0)) == (left, top)


@given(spans, st.integers(1, 12))
def test_a_round_step_is_the_least_that_fits(span: float, most: int) -> None:
    step = scale.round_step(span, most)
    assert re.fullmatch(r"[125]0*(\.0)?|0\.0*[125]", f"{step:.6f}".rstrip("0").rstrip("."))
    assert span / step <= most + 1e-6
    smaller = step / 2.5 if f"{step:e}".startswith("5") else step / 2
    assert span / smaller > most - 1e-6


@given(spans)
def test_the_bar_is_the_longest_round_length_that_fits(span: float) -> None:
    got = scale.round_below(span)
    assert got <= span * (1 + 1e-6) < got * 2.5 * (1 + 1e-6)


@given(metres, spans, st.sampled_from([0.5, 1.0, 2.0, 5.0, 10.0]))
def test_ticks_are_multiples_within_the_range(low: float, span: float, step: float) -> None:
    got = scale.ticks(low, low + span, step)
    assert all(low - 1e-6 <= t <= low + span + 1e-6 and abs(t / step - round(t / step)) < 1e-6 for t in got)
    assert len(got) >= int(span / step)


@given(st.lists(st.floats(0, 600), max_size=25))
def test_names_keep_their_distance_and_their_order(wishes: list[float]) -> None:
    wishes.sort()
    got = scale.spread(wishes, PITCH, 10)
    assert all(b - a >= PITCH - 1e-6 for a, b in pairwise(got))
    assert all(at >= 10 - 1e-6 for at in got)
    apart = all(b - a >= PITCH for a, b in pairwise(wishes)) and all(w >= 10 for w in wishes)
    if apart:
        assert got == pytest.approx(wishes), "names with room stay where they belong"


@given(st.lists(st.tuples(st.integers(120, 280), st.integers(10, 300)), max_size=14, unique=True))
def test_no_two_lines_cross(points: list[tuple[int, int]]) -> None:
    callouts = [Callout(f"box-{i}", "", float(x), float(y)) for i, (x, y) in enumerate(points)]
    scale.place_callouts(callouts, 100.0, 10.0)
    for a, b in combinations(callouts, 2):
        assert not scale._cross((100.0, a.at), (a.x, a.y), (100.0, b.at), (b.x, b.y))


def test_a_long_name_is_cut_to_its_margin() -> None:
    names = ["main-left-near", "b"]
    room = scale.widest(names, 40, 104)
    assert [scale.cut(n, room) for n in names] == names
    assert scale.cut("a-very-long-name-of-a-box", room) == "a-very-long-n…"
