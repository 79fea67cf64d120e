"""Racks, stands, exposure and radio, reckoned by hand."""

from __future__ import annotations

import itertools
import math
from pathlib import Path

import pytest

from helpers.by_hand import compiled_data, figures, value

RACK = """
plan: 1
show: Rack
kinds:
  thing: {is: processor, title: a thing, height: 2 U, depth: 400 mm, weight: 12.5 kg, draw-idle: 100 W,
    ports: {in 1: {connector: xlr-female, level: line, direction: in}}}
  frame: {is: rack, title: a rack, height: 10 U, inside-depth: 500 mm, weight: 20 kg}
  tripod: {is: stand, title: a tripod, weight: 4 kg, load: 15 kg, reach: 1 m - 2 m}
units:
  t1, t2, t3: thing
  top: {kind: powered-top-12, at: 1 m right 1 m out 1.8 m up, mount: stand, stand: tripod}
racks:
  r: {kind: frame, front: {1: t1, 3: t2, 5: vent 1 U, 6: t3}, lifts: 3}
"""


def test_rack(tmp_path: Path) -> None:
    """Three of 2 U and a vent of 1 U in 10 U of 44.45 mm (IEC 60297); 3·12.5 + 20 = 57.5 kg, by three 19.2 kg;
    300 W are 1023.6 BTU/h and 1.304 A at 230 V.
    """
    (got,) = figures(RACK, tmp_path)["racks"]
    assert got["units"] == 10
    assert value(got["used"]) == 7
    assert value(got["height"]) == pytest.approx(0.4445)
    assert value(got["weight"]) == pytest.approx(57.5)
    assert value(got["per_lifter"]) == pytest.approx(57.5 / 3)
    assert (value(got["heat"]), value(got["heat_flow"])) == pytest.approx((300, 1023.64), abs=0.05)
    assert value(got["current"]) == pytest.approx(300 / 230)


def test_stand(tmp_path: Path) -> None:
    """A box of its kind's weight on a stand for 15 kg."""
    document, found = compiled_data(RACK, tmp_path)
    (got,) = document["stands"]
    assert value(got["load"]) == 15
    assert ("stand-overload" in found) == (value(got["weight"]) > 15)


RADIO = """
plan: 1
show: Radio
units: {{{units}}}
radio:
  bands: [600 MHz - 614 MHz]
  spacing: 300 kHz
  guard: {guard} kHz
  channels: {{{channels}}}
"""


def radio(folder: Path, carriers: tuple[float, ...], guard: float = 50) -> dict[str, object]:
    units = ", ".join(f"rx-{i}: radio-handheld" for i in range(len(carriers)))
    channels = ", ".join(f"rx-{i}: {{frequency: {f} MHz}}" for i, f in enumerate(carriers))
    return figures(RADIO.format(units=units, channels=channels, guard=guard), folder)["radio"]  # type: ignore[no-any-return]


@pytest.mark.parametrize(
    ("carriers", "wanted"),
    [
        # 2·606.4 - 606.0 = 606.8, and 2·606.4 - 606.8 = 606.0
        ((606.0, 606.4, 606.8), {("2a-b", 606.0), ("2a-b", 606.8)}),
        # 607 + 608.5 - 606 = 609.5, and every way round: all four are hit by three transmitters, none by two
        ((606.0, 607.0, 608.5, 609.5), {("a+b-c", f) for f in (606.0, 607.0, 608.5, 609.5)}),
        # a Golomb ruler of order 4, 0-1-4-6 in steps of 0.4 MHz
        ((606.0, 606.4, 607.6, 608.4), set()),
    ],
)
def test_products_that_land_on_a_carrier(
    carriers: tuple[float, ...], wanted: set[tuple[str, float]], tmp_path: Path
) -> None:
    """Third order by two and three transmitters, 2a - b and a + b - c (ITU-R SM.1134)."""
    got = radio(tmp_path, carriers)["products"]
    assert {(p["kind"], round(value(p["frequency"]), 3)) for p in got} == wanted  # type: ignore[attr-defined]


def test_a_product_beside_a_carrier_counts_within_the_guard(tmp_path: Path) -> None:
    """2·606.4 - 606.0 = 606.8, 30 kHz beside 606.83."""
    carriers = (606.0, 606.4, 606.83)
    found = []
    for guard in (20, 50):
        (tmp_path / str(guard)).mkdir()
        found.append(len(radio(tmp_path / str(guard), carriers, guard)["products"]))  # type: ignore[arg-type]
    assert found[0] == 0
    assert found[1] == 2


def test_the_proposed_set_is_clean_by_brute_force(tmp_path: Path) -> None:
    carriers = tuple(606.0 + 0.4 * i for i in range(8))
    got = radio(tmp_path, carriers)
    moved = [value(c["proposed"]) for c in got["channels"]]  # type: ignore[attr-defined]
    assert all(600 <= f <= 614 for f in moved)
    assert min(abs(a - b) for a, b in itertools.combinations(moved, 2)) >= 0.3 - 1e-9
    for a, b, c in itertools.product(moved, repeat=3):
        if c not in (a, b):
            assert min(abs(a + b - c - f) for f in moved) >= 0.05 - 1e-9
    # n(n-1) by two and n(n-1)(n-2)/2 by three
    assert value(got["looked_at"]) == 8 * 7 + 8 * 7 * 6 / 2  # type: ignore[index]


EXPOSURE = """
plan: 1
show: Dose
length: {length}
target-level: {level} dB(A)
units:
  desk: desk-16
  top: {{kind: powered-top-12, at: 0 m right 0 m out 1.2 m up, aim: out}}
inputs: {{1: {{name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}}}
buses: {{main: {{}}}}
outputs: {{main: desk/out 1}}
wiring: {{xlr: [desk/out 1 -> top/in]}}
room:
  mix-position: 0 m right 2 m out 1.2 m up
  audience: {{floor: {{from: 1 m left 2 m out, to: 1 m right 6 m out}}}}
"""


@pytest.mark.parametrize(
    ("level", "length", "dose", "lex"),
    [
        # NIOSH 98-126: 85 dB(A) for 8 h is 100 %, twice for 3 dB (exactly, not by 10 lg 2); ISO 1999: L + 10 lg(T/8 h)
        (85, "8 h", 100, 85.0), (88, "8 h", 200, 88.0), (97, "2.5 h", 500, 91.95), (91, "90 min", 75, 83.73),
        (94, "3 h", 300, 89.74), (82, "8 h", 50, 82.0), (100, "1 h", 400, 90.97), (97, "30 min", 100, 84.96),
    ],
)  # fmt: skip
def test_dose_and_daily_exposure(level: float, length: str, dose: float, lex: float, tmp_path: Path) -> None:
    got = figures(EXPOSURE.format(level=level, length=length), tmp_path)["exposure"]
    here = next(e for e in got if value(e["level"]) == pytest.approx(level, abs=0.01))
    assert value(here["dose"]) == pytest.approx(dose, rel=1e-3)
    assert value(here["daily"]) == pytest.approx(lex, abs=0.01)
    assert value(here["audience"]) == pytest.approx(level - 100, abs=0.01)
    times = {r["name"]: value(r["time"]) for r in here["reached"]}
    assert times["NIOSH recommended"] == pytest.approx(480 / 2 ** ((level - 85) / 3))
    assert times["OSHA permissible"] == pytest.approx(480 / 2 ** ((level - 90) / 5))
    # Directive 2003/10/EC, article 3: 80, 85 and 87 dB(A) over 8 h, by energy
    for name, limit in (("EU lower action value", 80), ("EU upper action value", 85), ("EU limit value", 87)):
        assert times[name] == pytest.approx(480 * 10 ** ((limit - level) / 10))
    assert math.isfinite(sum(times.values()))
