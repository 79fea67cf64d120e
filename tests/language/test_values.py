"""The small grammars: what they read, and that no text makes them fall over."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigbook.findings.place import Source, Span
from rigbook.language.read import read_plan
from rigbook.language.values.filters import Filter, filter_value
from rigbook.language.values.names import SocketRef, name_problem, socket, unfold
from rigbook.language.values.positions import Position, Turn, aim, position, tilt
from rigbook.language.values.racks import RackItem, rack_item
from rigbook.language.values.sends import Leg, Send, leg, send
from rigbook.language.values.sizes import Coverage, clock, coverage, date, size
from rigbook.language.values.wires import Wire, wire
from rigbook.text.tree import Scalar
from rigbook.text.yaml_reader import read
from rigbook.units.parse import Problem

AT = Span("plan.yaml", 0, 0, 0, 60)


def a_wire(text: str) -> Wire | Problem:
    return wire(Scalar(text, Span("plan.yaml", 0, 0, 0, len(text))))


def test_wire() -> None:
    got = a_wire("amp/out A -> top-left, 18 m, label W7")
    assert isinstance(got, Wire)
    assert [e.text for e in got.ends] == ["amp/out A", "top-left"]
    assert got.length is not None and got.length.value == 18
    assert got.label == "W7"
    assert got.ends[1].span.column == 13


def test_chain() -> None:
    got = a_wire("amp/out A -> sub-left -> sub-right, 5 m")
    assert isinstance(got, Wire) and [e.unit for e in got.ends] == ["amp", "sub-left", "sub-right"]


@pytest.mark.parametrize(
    "text", ["a", "a ->", "-> b", "a => b", "a → b", "a -> b, 18", "a -> b, red", "a -> b, 18 Hz", ""]
)
def test_wire_refused(text: str) -> None:
    got = a_wire(text)
    assert isinstance(got, Problem) and got.remedy


@pytest.mark.parametrize(
    ("port", "runs"),
    [
        ("in 3", ["in 3"]),
        ("in 1-3", ["in 1", "in 2", "in 3"]),
        ("line 3+4", ["line 3", "line 4"]),
        ("out A-C", ["out A", "out B", "out C"]),
        ("in", ["in"]),
        ("in 3-1", None),
        ("in 1-B", None),
    ],
)
def test_unfold(port: str, runs: list[str] | None) -> None:
    assert unfold(port) == runs


def test_send() -> None:
    got = send("mix-1 -6 dB post", AT)
    assert isinstance(got, Send)
    assert (got.bus, got.leg, got.pick) == ("mix-1", "", "post")
    assert got.level is not None and got.level.value == -6
    left = send("main left", AT)
    assert isinstance(left, Send) and left.leg == "left"
    loud = send("mix-1 +3dB", AT)
    assert isinstance(loud, Send) and loud.level is not None and loud.level.value == 3


@pytest.mark.parametrize("text", ["", "Mix 1", "mix-1 loud", "mix-1 -6", "mix-1 6 Hz"])
def test_send_refused(text: str) -> None:
    assert isinstance(send(text, AT), Problem)


def test_leg() -> None:
    assert leg("main left", AT) == Leg("main", "left", AT)
    assert isinstance(leg("main up", AT), Problem)


def test_filter() -> None:
    got = filter_value("100 Hz lr 24 dB/oct", AT)
    assert isinstance(got, Filter)
    assert (got.frequency.value, got.type, got.slope) == (100, "linkwitz-riley", 24)
    plain = filter_value("1.2 kHz", AT)
    assert isinstance(plain, Filter) and plain.frequency.value == 1200 and plain.slope == 0


@pytest.mark.parametrize(
    "text", ["", "lr 24", "100 Hz xx 24 dB/oct", "100 Hz lr 18 dB/oct", "100 Hz butterworth 25 dB/oct"]
)
def test_filter_refused(text: str) -> None:
    assert isinstance(filter_value(text, AT), Problem)


def test_position() -> None:
    got = position("4 m left, 1 m out, 2.4 m up", AT)
    assert isinstance(got, Position) and (got.x, got.y, got.z) == (-4, 1, 2.4)
    named = position("foh", AT)
    assert isinstance(named, Position) and named.place == "foh"
    feet = position("10 ft right", AT)
    # 1 ft = 0.3048 m exactly: NIST SP 811, appendix B
    assert isinstance(feet, Position) and feet.x == pytest.approx(3.048)
    for text in ("4 m", "4 left", "4 m left, 3 m right", "4 m north"):
        assert isinstance(position(text, AT), Problem), text


def test_aim_and_tilt() -> None:
    for text, degrees in (("10 deg right", 10), ("10 deg left", -10), ("out", 0), ("back", 180)):
        got = aim(text, AT)
        assert isinstance(got, Turn) and got.degrees == degrees
    target = aim("at fiddle", AT)
    assert isinstance(target, Turn) and target.target == "fiddle"
    down = tilt("8 deg down", AT)
    assert isinstance(down, Turn) and down.degrees == -8
    assert isinstance(tilt("8", AT), Problem)


def test_sizes() -> None:
    assert coverage("90 x 60 deg", AT) == Coverage(90, 60, "90 x 60 deg")
    got = size("0.4 x 0.35 x 0.6 m", AT)
    assert not isinstance(got, Problem) and (got.width, got.depth, got.height) == (0.4, 0.35, 0.6)
    assert isinstance(date("2027-02-30", AT), Problem)
    assert clock("1:30", AT) == "01:30"
    assert isinstance(clock("24:00", AT), Problem)


def test_rack_item() -> None:
    assert rack_item("vent 1 U", AT) == RackItem("", "vent", 1, AT)
    assert rack_item("amp-tops", AT) == RackItem("amp-tops", "", 0, AT)
    assert isinstance(rack_item("Amp Tops", AT), Problem)


@pytest.mark.parametrize("text", [". x . deg", "1..2 x 60 deg", "٣ x 60 deg", "90 x 0 deg"])
def test_what_is_no_coverage(text: str) -> None:
    assert isinstance(coverage(text, AT), Problem)


@pytest.mark.parametrize("text", ["", ",", " , "])
def test_a_place_says_something(text: str) -> None:
    assert isinstance(position(text, AT), Problem)


def test_digits_are_those_of_a_keyboard() -> None:
    assert isinstance(clock("١٨:٣٠", AT), Problem) and isinstance(date("٢٠٢٧-02-06", AT), Problem)
    assert isinstance(rack_item("vent ٢ U", AT), Problem)


@pytest.mark.parametrize("load", ["{}", "{8 ohm: }", "{: 500 W}"])
def test_a_table_holds_something(load: str) -> None:
    node, wrong = read(Source("p.yaml", f"plan: 1\nkinds: {{a: {{is: amplifier, title: x, power: {load}}}}}\n"))
    assert [*wrong, *read_plan(node)[1]]


@given(st.text(max_size=40))
def test_no_text_breaks_a_grammar(text: str) -> None:
    for grammar in (send, leg, filter_value, position, aim, tilt, coverage, size, date, clock, rack_item, socket):
        grammar(text, AT)
    a_wire(text)
    unfold(text)


@given(st.text(max_size=20))
def test_a_name_problem_names_a_better_name_that_is_one(text: str) -> None:
    problem = name_problem(text)
    if problem and problem.remedy.startswith("write `"):
        assert name_problem(problem.remedy[7:-1]) is None


@given(
    st.from_regex(r"[a-z]{1,6}(-[a-z0-9]{1,3})?", fullmatch=True), st.from_regex(r"(in|out) [0-9]{1,2}", fullmatch=True)
)
def test_socket_round_trip(unit: str, port: str) -> None:
    got = socket(f"{unit}/{port}", AT)
    assert isinstance(got, SocketRef) and got.text == f"{unit}/{port}"
