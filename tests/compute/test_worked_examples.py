"""Small plans that restate worked examples: acoustic gain, critical distance, exposure, radio, levels, delays."""

from __future__ import annotations

import itertools
import math
from pathlib import Path

import pytest

from helpers.check_pages import compile_text
from rigbook.compute.data import data
from rigbook.compute.figure import Figure, Missing
from rigbook.compute.results import Results, results

PLAN = """
plan: 1
show: Lectern
length: {length}
target-level: {target}
kinds:
  cab:
    is: speaker
    title: a box
    box: top
    ports: {{in: {{connector: speaker-4-pole, level: speaker, direction: in}}}}
    impedance: 8 ohm
    rated-power: 900 W
    sensitivity: 120 dB
    coverage: {coverage}
units:
  desk: desk-16
  amp: amplifier-2x900
  top: {{kind: cab, at: 0 m right 45 ft back 4 m up, aim: out}}
inputs:
{inputs}
buses: {{main: {{}}}}
outputs: {{main: desk/out 1}}
wiring: {{xlr: [desk/out 1 -> amp/in A], speaker-4-mm2: ["amp/out A -> top/in, {cable}"]}}
room:
  {room}
  audience: {{floor: {{from: 0.2 m left 38.7 m out, to: 0.2 m right 39.1 m out, ear-height: 3 m}}}}
  mix-position: 0 m right {mix} out 4 m up
limits: {{equivalent-distance: 4 ft, stability-margin: 6 dB}}
"""
VOICE = """
  {n}:
    {{name: Voice {n}, from: desk/line {n}, mic: dynamic-vocal, source: speech, mic-distance: {away}, to: main,
     at: 0 m right 0 m back 4 m up}}"""


def made(
    folder: Path,
    voices: int = 1,
    away: str = "2 ft",
    coverage: str = "360 x 360 deg",
    room: str = "capacity: 10",
    target: str = "90 dB",
    length: str = "2 h",
    cable: str = "10 m",
    mix: str = "1 m",
) -> Results:
    inputs = "".join(VOICE.format(n=n, away=away) for n in range(1, voices + 1))
    text = PLAN.format(
        inputs=inputs, coverage=coverage, room=room, target=target, length=length, cable=cable, mix=mix
    )
    compiled = compile_text(text, folder)
    assert compiled.rig is not None, compiled.findings
    return results(compiled.rig)


def value(result: object) -> float:
    assert isinstance(result, Figure), result
    return result.value


def feet(metres: float) -> float:
    return metres / 0.3048


@pytest.mark.parametrize(("voices", "away_ft"), [(1, 2), (1, 1), (2, 2), (3, 2), (4, 0.5)])
def test_acoustic_gain_in_a_free_field(voices: int, away_ft: float, tmp_path: Path) -> None:
    """Ballou (ed.), Handbook for Sound Engineers, ch. 34: 20 lg(D0·D1/(Ds·D2)) - 10 lg NOM - 6, wanted 20 lg(D0/EAD).

    D1 is 45 ft behind the talker, so that D2 = D0 + D1.
    """
    got = made(tmp_path, voices, f"{away_ft} ft")
    loop = got.loops[0]
    d0 = feet(max(math.dist((0, 0, 4), p) for p in got.levels.by_area[0].points))
    d1, d2 = 45.0, feet(max(math.dist(got.places.unit("top"), p) for p in got.levels.by_area[0].points))
    assert (d0, d2) == pytest.approx((128, 173), abs=0.5)
    potential = 20 * math.log10(d0 * d1 / (away_ft * d2)) - 10 * math.log10(voices) - 6
    assert value(loop.potential) == pytest.approx(potential)
    assert value(loop.needed) == pytest.approx(20 * math.log10(d0 / 4))
    assert value(loop.margin) == pytest.approx(potential - 20 * math.log10(d0 / 4))


def test_the_distance_of_a_microphone_is_assumed_only_where_none_is_typed(tmp_path: Path) -> None:
    """Inverse square law: twice as far costs 6.02 dB of gain before feedback, and 6.02 dB of level."""
    (tmp_path / "a").mkdir(), (tmp_path / "b").mkdir()
    near, far = made(tmp_path / "a", away="0.3 m"), made(tmp_path / "b", away="0.6 m")
    assert value(near.loops[0].potential) - value(far.loops[0].potential) == pytest.approx(20 * math.log10(2))
    assert near.preamps[0].level.value - far.preamps[0].level.value == pytest.approx(20 * math.log10(2))
    assert not any("common practice" in a for a in near.loops[0].potential.assumptions)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("coverage", "q"),
    [("360 x 360 deg", 1.0), ("360 x 90 deg", math.sqrt(2)), ("180 x 180 deg", 2.0), ("90 x 90 deg", 6.0),
     ("180 x 90 deg", 4.0), ("60 x 60 deg", 180 / math.degrees(math.asin(0.25)))],
)  # fmt: skip
def test_critical_distance_of_a_hall(coverage: str, q: float, tmp_path: Path) -> None:
    """Kuttruff, Room Acoustics, (5.44): 0.057 √(Q·V/T), where 0.057 is 0.0566 rounded.

    A cube's face has Q 6, half of space 2, all of it 1.
    """
    got = made(tmp_path, coverage=coverage, room="volume: 2000 m3\n  reverberation-time: 1.5 s")
    (box,) = got.boxes_in_room
    assert value(box.critical) == pytest.approx(0.057 * math.sqrt(q * 2000 / 1.5), rel=0.008)
    metres = math.dist(got.places.unit("top"), got.levels.mix[0])
    assert value(box.at_mix) == pytest.approx(20 * math.log10(value(box.critical) / metres))


def test_gain_in_a_room_against_the_published_example_of_a_hall(tmp_path: Path) -> None:
    """Ballou (34-21), (34-22) with the loss of direct and reverberant sound together: 10 lg(D²/(Dc² + D²)) each."""
    got = made(tmp_path, voices=3, room="volume: 8000 m3\n  reverberation-time: 2 s")
    critical = value(got.boxes_in_room[0].critical)
    d0 = max(math.dist((0, 0, 4), p) for p in got.levels.by_area[0].points)
    d2 = max(math.dist(got.places.unit("top"), p) for p in got.levels.by_area[0].points)

    def loss(metres: float) -> float:
        return -10 * math.log10(1 / metres**2 + 1 / critical**2)

    wanted = loss(d0) + loss(45 * 0.3048) - loss(2 * 0.3048) - loss(d2) - 10 * math.log10(3) - 6
    assert value(got.loops[0].potential) == pytest.approx(wanted)
    assert value(got.loops[0].needed) == pytest.approx(loss(d0) - loss(4 * 0.3048))


@pytest.mark.parametrize(
    ("target", "length", "dose", "lex", "minutes"),
    [
        # NIOSH 98-126, table 1-1; 29 CFR 1910.95, table G-16A: 100 dB(A) is 15 min or 2 h, 85 dB(A) 8 h or 16 h
        ("100 dB", "2 h", "800 %", 93.98, {"NIOSH recommended": "15 min", "OSHA permissible": "120 min"}),
        ("100 dB", "15 min", "100 %", 84.95, {"EU upper action value": "15 min", "EU limit value": "24 min"}),
        ("85 dB", "8 h", "100 %", 85.0, {"NIOSH recommended": "480 min", "OSHA permissible": "960 min"}),
        ("88 dB", "4 h", "100 %", 84.99, {"NIOSH recommended": "240 min", "EU lower action value": "76 min"}),
        ("94 dB", "1 h", "100 %", 84.97, {"NIOSH recommended": "60 min", "Canada federal": "95 min"}),
        ("103 dB", "8 h", "6400 %", 103.0, {"NIOSH recommended": "7.5 min", "OSHA permissible": "79 min"}),
        ("106 dB", "1 h", "1600 %", 96.97, {"NIOSH recommended": "3.8 min", "EU lower action value": "1.2 min"}),
        ("110 dB", "1 min", "67 %", 83.19, {"NIOSH recommended": "1.5 min", "EU lower action value": "0.48 min"}),
    ],
)  # fmt: skip
def test_exposure_at_the_mix_position(
    target: str, length: str, dose: str, lex: float, minutes: dict[str, str], tmp_path: Path
) -> None:
    got = made(tmp_path, target=target, length=length)
    here, wanted = got.exposures[0], float(target.split()[0])
    assert value(here.level) == pytest.approx(wanted), "the rig gives less"
    assert isinstance(here.dose, Figure) and isinstance(here.daily, Figure)
    assert (here.dose.text, value(here.daily)) == (dose, pytest.approx(lex, abs=0.006))
    times = {r.name: r.time.text for r in here.reached}
    assert {name: times[name] for name in minutes} == minutes
    assert here.audience.value == pytest.approx(wanted - 100)


A_OCTAVES = (-26.2, -16.1, -8.6, -3.2, 0.0, 1.2, 1.0, -1.1)
"""IEC 61672-1:2013, table 3, 63 Hz to 8 kHz."""
AIR_DB_KM = (0.1, 0.3, 1.1, 2.8, 5.0, 9.0, 22.9, 76.6)
"""ISO 9613-2:1996, table 2, 20 °C and 70 %."""


@pytest.mark.parametrize(("mix_m", "cable_m"), [(1, 10), (6.284, 10), (26.284, 30), (6.284, 100)])
def test_level_of_a_box_from_published_tables(mix_m: float, cable_m: int, tmp_path: Path) -> None:
    """S + 10 lg P - 20 lg d - cable - air (IEC 60268-5; IEC 60228; ISO 9613-2), pink noise in octaves, A-weighted,
    less 12 dB of crest factor but the 3.01 dB of a sine.
    """
    got = made(tmp_path, cable=f"{cable_m} m", mix=f"{mix_m} m", room="humidity: 70 %\n  temperature: 20 degC")
    metres = mix_m + 45 * 0.3048
    cable_db = 20 * math.log10(1 + 2 * cable_m * 4.95e-3 / 8)
    whole = 120 + 10 * math.log10(900) - 20 * math.log10(metres) - cable_db
    octaves = (a - metres * air / 1000 for a, air in zip(A_OCTAVES, AIR_DB_KM, strict=True))
    weighted = whole - 10 * math.log10(8) + 10 * math.log10(sum(10 ** (x / 10) for x in octaves))
    assert value(got.levels.most_at_mix) == pytest.approx(weighted - (12 - 3.0103), abs=0.06)


def radio(folder: Path, *steps: float) -> Results:
    """Microphones on steps of 350 kHz from 606.5 MHz."""
    names = [f"rx-{i}" for i in range(len(steps))]
    units = "".join(f"  {n}: radio-handheld\n" for n in names)
    channels = "".join(
        f"    {n}: {{frequency: {606.5 + 0.35 * s:.3f} MHz}}\n" for n, s in zip(names, steps, strict=True)
    )
    text = f"plan: 1\nshow: Radio\nunits:\n{units}radio:\n  bands: [606 MHz - 614 MHz]\n  channels:\n{channels}"
    compiled = compile_text(text, folder)
    assert compiled.rig is not None, compiled.findings
    return results(compiled.rig)


@pytest.mark.parametrize("steps", [(0, 1, 4, 6), (0, 1, 4, 9, 11), (0, 2, 7, 8, 11), (0, 1, 4, 10, 12, 17)])
def test_microphones_on_a_set_of_unlike_differences_are_left_alone(steps: tuple[int, ...], tmp_path: Path) -> None:
    """W. C. Babcock, BSTJ 32, 1953: where no two differences are alike no third-order product lands on a carrier."""
    own = radio(tmp_path, *steps).radio
    assert (own.close, own.products) == ((), ())
    n = len(steps)
    assert own.looked_at.value == n * (n - 1) + n * (n - 1) * (n - 2) / 2
    assert [f.value for _, f in own.proposal if f] == pytest.approx([606.5 + 0.35 * s for s in steps])


def test_evenly_spaced_microphones_hit_each_other(tmp_path: Path) -> None:
    """Five on 0, 1, 2, 3, 4: the middle one is hit by 2·1-0, 2·3-4, 0+3-1, 0+4-2... against all products listed."""
    own = radio(tmp_path, 0, 1, 2, 3, 4).radio
    carriers = [c.hz for c in own.carriers]
    hit = {carriers.index(p.victim.hz) for p in own.products if p.kind == "2a-b"}
    listed = {
        v for v, a, b in itertools.permutations(range(5), 3) if abs(2 * carriers[a] - carriers[b] - carriers[v]) < 1e5
    }
    assert hit == listed == {0, 1, 2, 3, 4}
    assert all(p.offset.value == 0 for p in own.products)
    moved = [f.value for _, f in own.proposal if f]
    assert len(moved) == 5
    for a, b, c in itertools.permutations(moved, 3):
        assert abs(2 * a - b - c) >= 0.1 - 1e-9


@pytest.mark.parametrize(
    ("celsius", "main_m", "fill_m", "offset_ms"), [(20, 40, 10, 10), (0, 40, 10, 10), (35, 30, 6, 15), (-10, 25, 5, 0)]
)
def test_delay_of_a_delay_box(celsius: int, main_m: int, fill_m: int, offset_ms: int, tmp_path: Path) -> None:
    """(d1 - d2)/c + offset with c = 343.2 √(T/293.15); at 20 °C 40 m and 10 m with 10 ms are 97.41 ms."""
    text = f"""
plan: 1
show: Delay
units:
  desk: desk-16
  main-1: {{kind: powered-top-12, at: 0 m right 0 m out 1.2 m up, aim: out}}
  late: {{kind: powered-top-12, at: 0 m right {main_m - fill_m} m out 1.2 m up, supports: main-1, covers: [rear]}}
inputs: {{1: {{name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, late]}}}}
buses: {{main: {{}}, late: {{role: delay}}}}
outputs: {{main: desk/out 1, late: desk/out 2}}
wiring: {{xlr: [desk/out 1 -> main-1/in, desk/out 2 -> late/in]}}
room:
  temperature: {celsius} degC
  audience: {{rear: {{from: 1 m left {main_m - 2} m out, to: 1 m right {main_m + 2} m out, ear-height: 1.2 m}}}}
limits: {{delay-offset: {offset_ms} ms}}
"""
    compiled = compile_text(text, tmp_path)
    assert compiled.rig is not None, compiled.findings
    (got,) = results(compiled.rig).delays
    speed = 343.2 * math.sqrt((celsius + 273.15) / 293.15)
    assert (value(got.main_distance), value(got.own_distance)) == pytest.approx((main_m, fill_m))
    assert value(got.wanted) == pytest.approx(1000 * (main_m - fill_m) / speed + offset_ms)
    if (celsius, main_m) == (20, 40):
        assert isinstance(got.wanted, Figure)
        assert got.wanted.text == "97.4 ms"
    assert value(got.later) == pytest.approx(-1000 * (main_m - fill_m) / speed)
    assert got.heard == "first"


def test_what_a_plan_shows_is_what_the_document_says(tmp_path: Path) -> None:
    got = made(tmp_path, room="volume: 2000 m3\n  reverberation-time: 1.5 s")
    document = data(got.rig)
    loop, box = got.loops[0], got.boxes_in_room[0]
    assert document["feedback"][0]["potential"]["text"] == loop.potential.text
    assert document["room"][0]["critical"]["value"] == pytest.approx(value(box.critical))
    assert not isinstance(loop.margin, Missing)
    assert document["feedback"][0]["margin"]["assumptions"] == list(loop.margin.assumptions)
