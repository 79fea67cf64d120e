"""Figures of whole rigs: by hand from the plan, by other ways of working, and by properties that hold for all."""

from __future__ import annotations

import math
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from helpers.check_pages import compile_text
from rigbook.compute.aims import own_points
from rigbook.compute.figure import Figure, Missing, worked
from rigbook.compute.results import Results, results
from rigbook.physics.errors import OutOfRange

HALL = "plan: 1\nbuilds-on: common/hall.yaml\n"


def made(text: str, folder: Path) -> Results:
    compiled = compile_text(text, folder)
    assert compiled.rig is not None
    return results(compiled.rig)


@pytest.fixture(scope="module")
def hall(tmp_path_factory: pytest.TempPathFactory) -> Results:
    return made(HALL, tmp_path_factory.mktemp("hall"))


def value(result: object) -> float:
    assert isinstance(result, Figure), result
    return result.value


def test_a_figure_prints_its_number_with_unit_and_sign() -> None:
    assert Figure(-3.04, "dB", "f").text == "−3.0 dB"
    assert str(Figure(-0.04, "dB", "f")) == "0.0 dB"
    assert (Figure(12, "%", "f", places=0).text, Figure(7.5, "°", "f").text) == ("12 %", "7.5°")


def test_a_formula_outside_its_range_gives_the_reason() -> None:
    def out() -> Figure:
        raise OutOfRange("load impedance", 2.0, "Ω", (4.0, 8.0))

    got = worked(out)
    assert isinstance(got, Missing)
    assert "outside 4 to 8" in got.why


def test_results_are_kept_with_the_rig(hall: Results) -> None:
    assert results(hall.rig) is hall


def test_loads_by_hand(hall: Results) -> None:
    """2 x 500 W at 8 Ω: √(500·8) V; limiter √(350·8) V, less 33 dB of gain (Ohm's law; 0 dBu is √0.6 V)."""
    tops = next(c for c in hall.amp_channels if c.socket == "amp-tops/out A")
    assert value(tops.load) == 8
    assert value(tops.volts) == pytest.approx(math.sqrt(4000))
    assert value(tops.limiter) == pytest.approx(math.sqrt(2800))
    assert value(tops.limiter_input) == pytest.approx(20 * math.log10(math.sqrt(2800 / 0.6)) - 33)


def test_power_is_not_made_up_beyond_the_declared_loads(tmp_path: Path) -> None:
    got = made(HALL + "units: {wedge-3: wedge-12, wedge-4: wedge-12}\n"
               "wiring: {speaker-2.5-mm2: [wedge-1/link -> wedge-3, wedge-3/link -> wedge-4]}\n", tmp_path)  # fmt: skip
    channel = next(c for c in got.amp_channels if c.socket == "amp-wedges/out A")
    assert value(channel.load) == pytest.approx(8 / 3)
    assert isinstance(channel.power, Missing)


def test_gain_structure_by_hand(hall: Results) -> None:
    """500 W at 8 Ω want 38.2 dBu, 33 dB less at the input, against 21 dBu at full scale."""
    chain = next(c for c in hall.chains if c.box == "top-left")
    stages = {s.name: s.clips_at.value for s in chain.stages}
    assert stages["amp-tops/out A"] == pytest.approx(20 * math.log10(math.sqrt(4000 / 0.6)) - 33 - 21)
    assert stages["limiter"] == pytest.approx(3 - 21)
    assert chain.first == "limiter"


def test_attenuators_count_once(tmp_path: Path) -> None:
    text = HALL + "changes: {Quiet: {units: {amp-tops: {attenuation: -6 dB}}}}\n"
    before = next(c for c in made(HALL, tmp_path / "a").chains if c.box == "top-left")
    after = next(c for c in made(text, tmp_path / "b").chains if c.box == "top-left")
    assert value(after.headroom) - value(before.headroom) == pytest.approx(6)


def test_a_linkwitz_riley_pair_meets_at_its_corner_without_ripple(tmp_path: Path) -> None:
    """Equal distances, so the sum is flat (S. Linkwitz, JAES 24(1), 1976)."""
    (pair,) = made("plan: 1\nbuilds-on: common/house.yaml\n", tmp_path).crossovers
    assert value(pair.crossing) == pytest.approx(100, rel=1e-6)
    assert value(pair.overlap) == pytest.approx(0, abs=0.01)  # -6 against -6.02 dB
    assert value(pair.lowest) == pytest.approx(0, abs=0.01)
    assert pair.polarity_advice is not None
    assert not pair.polarity_advice.invert


def test_the_map_and_the_single_points_agree(hall: Results) -> None:
    """The picture goes through numpy, the checks through floats: the same formulas, the same levels."""
    levels = hall.levels
    points = levels.by_area[0].points
    mapped = levels.field.of_all(np.array(points), levels.trims)
    for i, point in enumerate(points):
        bands, _ = levels.at(point)
        assert [float(np.asarray(b)[i]) for b in mapped] == pytest.approx(bands, abs=1e-9)


def test_twice_as_far_on_the_axis_is_six_decibels_less(hall: Results) -> None:
    source = next(s for s in hall.levels.sources if s.box.name == "top-left")
    turn, tilt = math.radians(source.aim.turn), math.radians(source.aim.tilt)
    ahead = (math.sin(turn) * math.cos(tilt), math.cos(turn) * math.cos(tilt), math.sin(tilt))
    near, far = ([source.spot[i] + d * ahead[i] for i in range(3)] for d in (2.0, 4.0))
    low = [a - b for a, b in zip(hall.levels.field.of_one(source, near), hall.levels.field.of_one(source, far))]
    assert low[1] == pytest.approx(20 * math.log10(2), abs=0.01)  # 125 Hz: air takes nothing yet
    assert low[-1] > low[1]


def test_left_and_right_are_alike_in_a_rig_that_is(hall: Results) -> None:
    left, right = (hall.levels.at((x, 8.0, 1.2))[1] for x in (-2.0, 2.0))
    assert left == pytest.approx(right, abs=0.1)  # unlike only by the lengths of the speaker cables


def test_programme_is_the_limit_where_the_rig_gives_it(hall: Results, tmp_path: Path) -> None:
    quiet = made(HALL + "target-level: 85 dB(A)\n", tmp_path)
    assert quiet.levels.programme.value == 85
    assert quiet.levels.spots[0][1].value == pytest.approx(85, abs=0.01)
    assert hall.levels.programme.value <= 97


DELAYS = (
    "units: {late: {kind: powered-fill-6, at: 4 m out 2.5 m up, supports: top-left}}\n"
    "outputs: {late: box/out 3}\nbuses: {late: {role: delay}}\nwiring: {xlr: [box/out 3 -> late/in]}\n"
)


@pytest.mark.parametrize("more", ["", "target-level: 85 dB(A)\n"])
def test_programme_holds_every_box_that_plays_at_the_mix_position(tmp_path: Path, more: str) -> None:
    got = made(HALL + DELAYS + more, tmp_path).levels
    assert got.spots[0][1].value == pytest.approx(got.programme.value, abs=0.01)
    assert got.most_at_mix.value > got.full_at_mix - 9


def test_the_most_of_music_adds_up_as_printed(hall: Results) -> None:
    """Crest factor of a sine: 10 lg 2 = 3.01 dB, by definition."""
    full, music, sine, alone = (value for _, value, _ in hall.levels.most_at_mix.inputs[:4])
    assert sine == pytest.approx(10 * math.log10(2))
    assert full - (music - sine) == pytest.approx(alone)


@pytest.mark.parametrize("aim", ["10 deg right", "60 deg left", "110 deg left", "180 deg right"])
def test_a_delay_box_is_there_for_what_lies_ahead_of_it(tmp_path: Path, aim: str) -> None:
    late = DELAYS.replace("at: 4 m out 2.5 m up", f"at: 3 m left 6 m out 2.5 m up, aim: {aim}")
    got = made(HALL + late, tmp_path)
    box = next(s for s in got.levels.covering if s.box.name == "late")
    turn = math.radians(box.aim.turn)
    places = own_points(got.levels, box)
    if aim == "10 deg right":
        ahead = [(p.x - box.spot.x) * math.sin(turn) + (p.y - box.spot.y) * math.cos(turn) for p in places]
        assert min(ahead) > 0
    (found,) = [a for a in got.aims if a.box == "late"]
    aside = 0.0 if isinstance(found.best_turn, Missing) else abs(found.best_turn.value - box.aim.turn)
    assert min(aside, 360 - aside) <= 45


def test_fill_delay_by_hand(tmp_path: Path) -> None:
    """(d1 - d2)/c + 10 ms at the point where the axis of the fill meets the ears."""
    text = HALL + (
        "units: {fill: {kind: powered-fill-6, at: 1 m out 1.2 m up, supports: top-left}}\n"
        "outputs: {lip: box/out 3}\nbuses: {lip: {role: fill}}\nwiring: {xlr: [box/out 3 -> fill/in]}\n"
        "inputs: {3: {name: Talk, from: box/in 3, mic: dynamic-vocal, source: speech, to: [main, lip]}}\n"
    )
    (delay,) = made(text, tmp_path).delays
    main = math.dist((-4, 0.6, 3.1), (0, 5, 1.2))
    assert value(delay.wanted) == pytest.approx((main - 4) / 343.2 * 1000 + 10, abs=0.01)


def test_power_of_a_circuit_by_hand(hall: Results) -> None:
    """Sum of the draws at 1/8 power over 230 V; 80 % of the breaker (NEC 210.20)."""
    stage = hall.mains.circuits[0]
    assert value(stage.eighth) == pytest.approx(sum(float(p[1]) for p in stage.eighth.inputs) / 230)
    assert value(stage.allowed) == pytest.approx(12.8)
    assert hall.mains.order[-1].startswith("amp")


def test_rack_by_hand(hall: Results) -> None:
    (rack,) = hall.racks
    assert value(rack.used) == 2 + 1 + 2 + 1 + 2 + 2
    assert value(rack.weight) == pytest.approx(sum(float(p[1]) for p in rack.weight.inputs))
    assert value(rack.per_lifter) == pytest.approx(value(rack.weight) / 4)


def test_a_proposed_set_is_clean(tmp_path: Path) -> None:
    rows = ", ".join(f"rx-{i}: {{frequency: {606 + i} MHz}}" for i in range(1, 7))
    units = ", ".join(f"rx-{i}: radio-receiver" for i in range(1, 7))
    text = f"plan: 1\nshow: Radio\nunits: {{desk: desk-16, {units}}}\n"
    radio = made(text + f"radio: {{channels: {{{rows}}}, bands: [606 MHz - 622 MHz]}}\n", tmp_path).radio
    assert radio.products
    moved = ", ".join(f"{c.name}: {{frequency: {f.amount} MHz}}" for c, f in radio.proposal if f)
    again = made(text + f"radio: {{channels: {{{moved}}}, bands: [606 MHz - 622 MHz]}}\n", tmp_path / "again").radio
    assert not again.products
    assert not again.close


RADIO = """
radio: {channels: {rx-1: {frequency: 606.5 MHz}, rx-2: {frequency: 607.3 MHz}, rx-3: {frequency: 608.9 MHz}}}
"""


@pytest.mark.parametrize("more", ["", RADIO], ids=["places", "some radio"])
def test_checks_do_without_numpy(more: str, tmp_path: Path) -> None:
    """Levels of a plan with places, and products of a few carriers, are computed without numpy; the map imports it."""
    units = "  rx-1, rx-2, rx-3: radio-receiver\n" if more else ""
    compile_text(HALL.replace("units:\n", f"units:\n{units}", 1) + more, tmp_path)
    program = (
        "import sys\nfrom pathlib import Path\nfrom rigbook.pipeline import compile_plan\n"
        f"got = compile_plan(Path({str(tmp_path / 'plan.yaml')!r}))\n"
        "from rigbook.compute.results import results\n"
        "print(len(results(got.rig).radio.carriers), 'numpy' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True, timeout=60)
    assert done.stdout.strip() == ("3 False" if more else "0 False")
