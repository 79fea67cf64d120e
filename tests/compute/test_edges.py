"""Edges of what a plan may say: cold, heat, dry air, loads beside the declared ones, filters that cancel."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from helpers.check_pages import compile_text
from rigbook.compute.data import data
from rigbook.compute.figure import Figure, Missing
from rigbook.compute.levels import NO_AIR
from rigbook.compute.results import Results, results

HALL = "plan: 1\nbuilds-on: common/hall.yaml\n"
RIG = """
plan: 1
show: Loads
kinds:
  amp:
    is: amplifier
    title: an amplifier
    ports:
      in A-B: {{connector: xlr-female, level: line, direction: in}}
      out A-B: {{connector: speaker-4-pole, level: speaker, direction: out}}
    modes: {{stereo: [in A -> out A, in B -> out B], bridged: [in A -> out A]}}
    power: {{{power}}}
    minimum-load: {least}
    gain: 32 dB
    damping-factor: 200
  cab:
    is: speaker
    title: a box
    ports:
      in: {{connector: speaker-4-pole, level: speaker, direction: in}}
      link: {{connector: speaker-4-pole, level: speaker, direction: out}}
    impedance: {ohm}
    rated-power: 400 W
    sensitivity: 97 dB
units:
  desk: desk-16
  amp-1: {{kind: amp, mode: {mode}}}
  {names}: cab
inputs: {{1: {{name: Voice, from: desk/line 1, mic: dynamic-vocal, to: main}}}}
buses: {{main: {{}}}}
outputs: {{main: desk/out 1}}
wiring: {{xlr: [desk/out 1 -> amp-1/in A], speaker-2.5-mm2: ["amp-1/out A -> {chain}, 30 m"]}}
"""


def made(text: str, folder: Path) -> Results:
    compiled = compile_text(text, folder)
    assert compiled.rig is not None, compiled.findings
    return results(compiled.rig)


def value(result: object) -> float:
    assert isinstance(result, Figure), result
    return result.value


def loaded(
    folder: Path, ohm: str, count: int = 1, mode: str = "stereo", power: str = "8 ohm: 500 W", least: str = "4 ohm"
) -> Results:
    names = [f"c{i}" for i in range(1, count + 1)]
    text = RIG.format(
        power=power, least=least, ohm=ohm, mode=mode,
        names=", ".join(names), chain=" -> ".join(f"{n}/in" for n in names),
    )  # fmt: skip
    return made(text, folder)


@pytest.mark.parametrize("celsius", [-40, -21, -20, 0, 50, 51, 60])
def test_any_temperature_that_a_plan_may_say_has_a_speed_of_sound(celsius: int, tmp_path: Path) -> None:
    """The root law of an ideal gas; ISO 9613-1:1993, (A.5)."""
    got = made(f"{HALL}room: {{temperature: {celsius} degC}}\n", tmp_path)
    sub = got.sub_alignments[0]
    speed = 343.2 * math.sqrt((celsius + 273.15) / 293.15)
    assert value(sub.later) == pytest.approx(1000 * (value(sub.sub_distance) - value(sub.top_distance)) / speed)
    assert data(got.rig)["levels"]


@pytest.mark.parametrize(
    ("air", "left_out"),
    [("20 degC, humidity: 50 %", False), ("-20 degC, humidity: 10 %", False), ("40 degC, humidity: 100 %", False),
     ("20 degC, humidity: 0 %", True), ("-25 degC, humidity: 70 %", True), ("60 degC, humidity: 10 %", True)],
)  # fmt: skip
def test_air_absorption_that_is_left_out_is_told(air: str, left_out: bool, tmp_path: Path) -> None:
    got = made(f"{HALL}room: {{temperature: {air}}}\n", tmp_path)
    figures = [got.levels.programme, got.levels.most_at_mix, got.levels.by_area[0].bands[0].mean]
    assert [NO_AIR in f.assumptions for f in figures] == [left_out] * 3


def test_the_same_temperature_in_another_unit_is_the_same(tmp_path: Path) -> None:
    """SI Brochure, 9th edition: 104 °F and 313.15 K are 40 °C."""
    for i, said in enumerate(("40 degC", "104 degF", "313.15 K")):
        folder = tmp_path / str(i)
        folder.mkdir()
        got = made(f"{HALL}room: {{temperature: {said}, humidity: 10 %}}\n", folder)
        assert value(got.sub_alignments[0].later) == pytest.approx(-0.918104628)


def test_a_bridged_pair_is_not_reckoned_beyond_what_a_channel_declares(tmp_path: Path) -> None:
    """Each half sees half the load (circuit theory): with 8 Ω alone declared, 16 Ω has a figure and 8 Ω has none."""
    (tmp_path / "a").mkdir(), (tmp_path / "b").mkdir()
    (known,) = loaded(tmp_path / "a", "16 ohm", mode="bridged").amp_channels
    assert (value(known.power), value(known.minimum)) == (1000, 8)
    (unknown,) = loaded(tmp_path / "b", "8 ohm", mode="bridged").amp_channels
    assert isinstance(unknown.power, Missing)
    assert str(unknown.power) == "`amp` declares power at 8 Ω, not at the 4 Ω that each half of the pair sees"


@pytest.mark.parametrize(
    ("ohm", "count", "load", "said"),
    [("8 ohm", 3, 8 / 3, "2.67 Ω"), ("24 ohm", 6, 4, "4.0 Ω"), ("16 ohm", 3, 16 / 3, "5.33 Ω"),
     ("8 ohm", 4, 2, "2.0 Ω")],
)  # fmt: skip
def test_loads_as_handbooks_print_them(ohm: str, count: int, load: float, said: str, tmp_path: Path) -> None:
    """Ohm's law, 1/Z = sum of 1/Zi: three boxes of 8 Ω are 2.67 Ω."""
    points = "8 ohm: 500 W, 5.33 ohm: 700 W, 4 ohm: 800 W, 2.67 ohm: 1000 W, 2 ohm: 1200 W"
    (got,) = loaded(tmp_path, ohm, count, power=points, least="2 ohm").amp_channels
    assert value(got.load) == pytest.approx(load)
    assert got.load.text == said
    assert value(got.power) == pytest.approx({2.67: 1000, 4: 800, 5.33: 700, 2: 1200}[round(load, 2)], rel=0.002)


def test_thirty_metres_of_two_and_a_half_at_four_ohm(tmp_path: Path) -> None:
    """IEC 60228 class 5: 2·30·7.98/1000 = 0.479 Ω; 20 lg(1 + 0.479/4) = 0.98 dB; 4/(8/200 + 0.479) = 7.7."""
    (run,) = loaded(tmp_path, "4 ohm", power="8 ohm: 500 W, 4 ohm: 800 W").cable_runs
    assert (run.loop.text, run.loss.text, run.damping.text) == ("0.479 Ω", "0.98 dB", "8")
    assert value(run.damping) == pytest.approx(7.71010023)
    # 0.5 dB: 2·30·R'/4 may be 0.0593, thus R' up to 3.95 Ω/km: 6 mm² has 3.30
    assert run.next_area == 6.0


def crossover(folder: Path, main: str, subs: str) -> Results:
    folder.mkdir()
    return made(
        "plan: 1\nbuilds-on: common/house.yaml\nchanges:\n  As in the book:\n    buses:\n"
        f"      main: {{stereo: yes, low-cut: {main}, limiter: +3 dBu}}\n"
        f"      subs: {{high-cut: {subs}, limiter: +6 dBu}}\n",
        folder,
    )


@pytest.mark.parametrize(
    ("cut", "at_crossover", "polarity"),
    [
        ("butterworth 6 dB/oct", 0.0, False), ("butterworth 18 dB/oct", 0.0, False),
        ("lr 24 dB/oct", 0.0, False), ("lr 48 dB/oct", 0.0, False),
        ("butterworth 24 dB/oct", 3.0103, False), ("butterworth 48 dB/oct", 3.0103, False),
        ("lr 12 dB/oct", -80.0, True), ("lr 36 dB/oct", -80.0, True), ("butterworth 12 dB/oct", -80.0, True),
    ],
)  # fmt: skip
def test_matched_crossovers_as_the_textbook_has_them(
    cut: str, at_crossover: float, polarity: bool, tmp_path: Path
) -> None:
    """S. Linkwitz, JAES 24(1), 1976, and any filter text: the sum at the crossover, and who wants a polarity turned."""
    (pair,) = crossover(tmp_path / "a", f"100 Hz {cut}", f"100 Hz {cut}").crossovers
    assert value(pair.crossing) == pytest.approx(100, abs=0.01)
    assert pair.at(100.0)[3] == pytest.approx(at_crossover, abs=0.01)
    assert pair.polarity_advice is not None and pair.polarity_advice.invert is polarity


def test_a_linkwitz_riley_pair_of_one_frequency_neither_overlaps_nor_leaves_a_gap(tmp_path: Path) -> None:
    for i, slope in enumerate((12, 24, 36, 48)):
        (pair,) = crossover(tmp_path / str(i), f"90 Hz lr {slope} dB/oct", f"90 Hz lr {slope} dB/oct").crossovers
        assert isinstance(pair.overlap, Figure)
        assert pair.overlap.text == "0.00 octaves"


@pytest.mark.parametrize(
    ("cut", "assumed"),
    [
        ("100 Hz", ["a filter that does not say its kind is taken as Butterworth",
                    "a Butterworth filter that does not say its slope is taken as 12 dB/oct"]),
        ("100 Hz lr", ["a Linkwitz-Riley filter that does not say its slope is taken as 24 dB/oct"]),
        ("100 Hz bessel 24 dB/oct",
         ["a Bessel filter is 3 dB down at its frequency; some processors count it from another point"]),
        ("100 Hz lr 24 dB/oct", []),
    ],
)  # fmt: skip
def test_what_a_filter_does_not_say_is_told_as_it_is_taken(cut: str, assumed: list[str], tmp_path: Path) -> None:
    (pair,) = crossover(tmp_path / "a", cut, cut).crossovers
    assert list(pair.overlap.assumptions if isinstance(pair.overlap, Figure) else ()) == assumed


def test_a_bessel_filter_is_three_decibels_down_at_its_frequency(tmp_path: Path) -> None:
    """scipy.signal.bessel(4, 1, norm='mag') has 3.01 dB at 1; norm='phase' would have 7.58 dB."""
    (pair,) = crossover(tmp_path / "a", "100 Hz bessel 24 dB/oct", "100 Hz bessel 24 dB/oct").crossovers
    assert pair.at(100.0)[1:3] == (-3.01, -3.01)


RADIO = """
plan: 1
show: Radio
units: {{rx-1: radio-receiver, rx-2: radio-receiver, rx-3: radio-receiver}}
radio:
  {said}
  channels: {{rx-1: {{frequency: 500 MHz}}, rx-2: {{frequency: 501 MHz}}, rx-3: {{frequency: 502 MHz}}}}
"""


@pytest.mark.parametrize(
    "said", ["guard: 0 kHz", "guard: 50 MHz", "step: 1 kHz", "step: 50 MHz", "bands: [20 MHz - 10 GHz]"]
)
def test_a_radio_plan_at_the_edges_of_what_it_may_say(said: str, tmp_path: Path) -> None:
    got = made(RADIO.format(said=said), tmp_path).radio
    assert len(got.proposal) == 3
    # 2·501 - 500 = 502: three carriers at equal distances, whatever the guard
    assert "2a-b" in {p.kind for p in got.products}


@pytest.mark.parametrize(("height", "high"), [("0.5 U", 3), ("1 U", 3), ("1.5 U", 4), ("2 U", 4), ("2.5 U", 5)])
def test_what_takes_half_a_rack_unit_takes_the_whole_of_it(height: str, high: int, tmp_path: Path) -> None:
    """IEC 60297-3-100: panels and their holes go by whole units of 44.45 mm."""
    text = f"""
plan: 1
show: Rack
kinds: {{box: {{is: processor, title: a box, height: {height}}}}}
units: {{proc: box}}
racks: {{amps: {{kind: rack-12u, front: {{3: proc}}}}}}
"""
    (rack,) = made(text, tmp_path).racks
    assert [(i.low, i.high) for i in rack.items] == [(3, high)]
