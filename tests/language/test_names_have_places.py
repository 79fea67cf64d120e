"""A name in a list has its own place; counts of lengths; what an adaptor's place is."""

from __future__ import annotations

import pytest

from rigbook.findings.place import Source, Span
from rigbook.language.read import read_plan
from rigbook.language.values.names import Name, place_of
from rigbook.language.values.sizes import Counted, counted
from rigbook.text.yaml_reader import read
from rigbook.units.parse import Problem

NOWHERE = Span("", 0, 0, 0, 0)


def test_each_name_of_a_list_has_its_own_place() -> None:
    text = "plan: 1\npower: {order: [desk, amp-tops]}\n"
    record, _ = read_plan(read(Source("p.yaml", text))[0])
    first, second = record.get("power").get("order")
    assert (first, second) == ("desk", "amp-tops") and isinstance(first, Name)
    for name in (first, second):
        span = place_of(name, NOWHERE)
        assert text.splitlines()[span.line][span.column : span.end_column] == name
    assert place_of("typed", NOWHERE) == NOWHERE


def test_the_place_of_an_adaptor() -> None:
    text = "plan: 1\nwiring: {xlr: ['a/out -> b/in, 2 m, adaptor xlr-turned-male, label W7']}\n"
    record, _ = read_plan(read(Source("p.yaml", text))[0])
    wire = record.get("wiring")[0].value[0]
    span = wire.adaptor_span
    assert text.splitlines()[span.line][span.column : span.end_column] == "xlr-turned-male"


@pytest.mark.parametrize(
    ("text", "count", "metres"), [("6 x 10 m", 6, 10), ("20 m", 1, 20), ("4x5m", 4, 5), ("2 × 50 ft", 2, 15.24)]
)
def test_counts_of_lengths(text: str, count: int, metres: float) -> None:
    got = counted(text, NOWHERE)
    assert isinstance(got, Counted)
    assert (got.count, round(got.length.value, 6)) == (count, metres)


@pytest.mark.parametrize("text", ["six x 10 m", "6 x", "6 x 10", "6 x 10 kg", "x 10 m", "6 x 5 x 4 m"])
def test_what_is_no_count_of_a_length(text: str) -> None:
    assert isinstance(counted(text, NOWHERE), Problem)
