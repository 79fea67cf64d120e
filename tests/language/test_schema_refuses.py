"""Plans with one mistake each: those that the schema refuses, as `check` does, and those that no schema can tell."""

from __future__ import annotations

from pathlib import Path

import pytest

from helpers.editors import as_editor
from rigbook.findings.finding import Severity
from rigbook.language.schema import schema
from rigbook.pipeline import compile_plan

jsonschema = pytest.importorskip("jsonschema")

UNITS = "units:\n  desk: desk-16\n  box: stage-box-16\n  top: {kind: powered-top-12, at: 2 m left}\n"
REFUSED = {
    "key misspelt": "unitz: {}",
    "key of a group misspelt": "units: {a: {kind: top-12, colour: red}}",
    "required key missing": "units: {a: {at: 4 m left}}",
    "word of a choice unknown": "buses: {main: {role: chorus}}",
    "list where a group belongs": "units: [desk-16]",
    "text where a list belongs": "walk-tests: yesterday",
    "nothing where an amount belongs": "room: {reverberation-time: }",
    "length without a unit": "inputs: {1: {name: Fiddle, cable: 10}}",
    "length in kilograms": "inputs: {1: {name: Fiddle, cable: 10 kg}}",
    "length in yards": "inputs: {1: {name: Fiddle, cable: 10 yd}}",
    "length with a comma": "inputs: {1: {name: Fiddle, cable: '2,5 m'}}",
    "length below nought": "inputs: {1: {name: Fiddle, cable: -2 m}}",
    "feet and inches": "inputs: {1: {name: Fiddle, cable: 6' 3\"}}",
    "level in metres": "buses: {main: {gain: -3 m}}",
    "delay without a unit": "buses: {main: {delay: 12}}",
    "two phases of a supply": "power: {supplies: {house: {phases: 2}}}",
    "area that is no gauge": "power: {circuits: {a: {supply: house, rating: 16 A, area: 50 AWG}}}",
    "hertz spelt small": "radio: {channels: {rx: {frequency: 606.5 mhz}}}",
    "filter without a frequency": "buses: {main: {low-cut: lr 24 dB/oct}}",
    "filter of a slope that is none": "buses: {main: {low-cut: 100 Hz lr 18 dB/oct}}",
    "filter of a type that is none": "buses: {main: {low-cut: 100 Hz elliptic}}",
    "range with one end": "kinds: {m: {is: microphone, title: x, range: 60 Hz}}",
    "place without a direction": UNITS.replace("2 m left", "2 m"),
    "place with left twice": UNITS.replace("2 m left", "2 m left 1 m right"),
    "aim without a side": UNITS.replace("2 m left", "2 m left, aim: 10 deg"),
    "tilt to the side": UNITS.replace("2 m left", "2 m left, tilt: 10 deg left"),
    "size of two sides": "room: {size: 12 x 24 m}",
    "coverage without degrees": "kinds: {t: {is: speaker, title: x, coverage: 90 x 60}}",
    "date turned round": "date: 06.02.2027",
    "date that no year has": "date: 2027-02-30",
    "time of day with a point": "doors: 18.30",
    "hour that no day has": "doors: 25:00",
    "count that is no number": "stock: {xlr: {count: many}}",
    "count below nought": "room: {capacity: -5}",
    "neither yes nor no": "buses: {main: {stereo: perhaps}}",
    "name with capitals": "units: {Desk: desk-16}",
    "channel without a number": "inputs: {Fiddle: {name: Fiddle}}",
    "bus leg that is no side": "outputs: {main middle: desk/out 1}",
    "socket without a port": "outputs: {main: box/}",
    "send without a bus": "inputs: {1: {name: Fiddle, to: -6 dB}}",
    "send with a level in Hz": "inputs: {1: {name: Fiddle, to: [main 6 Hz]}}",
    "cable without an arrow": "wiring: {xlr: [box/out 1 top/in]}",
    "cable with one end": "wiring: {xlr: ['box/out 1 ->']}",
    "cable with a length without unit": "wiring: {xlr: ['box/out 1 -> top/in, 10']}",
    "cable with a colon": "wiring: {xlr: [{box/out 1 -> top/in: 10 m}]}",
    "panel without a height": "racks: {r: {kind: rack-12u, front: {1: vent U}}}",
    "rack unit nought": "racks: {r: {kind: rack-12u, front: {0: vent 1 U}}}",
    "power by load without ohms": "kinds: {a: {is: amplifier, title: x, power: {8: 500 W}}}",
    "power factor of two": "kinds: {a: {is: amplifier, title: x, power-factor: 2}}",
    "step of no day": "desk-notes: {lunch: Eat.}",
    "heading too long": f"notes: {{{'long ' * 20}: Ring the bell.}}",
    "address without its beginning": "published: example.org/hall",
    "sheet that is none": "labels: {sheet: A9}",
    "pieces to join": "stock: {xlr: {lengths: 6 x 10 m, join: 4}}",
    "version to come": "plan: 2",
}
UNTOLD = {
    "kind that is not in the library": ("units: {a: top-99}", "the library is another file"),
    "unit that does not exist": (UNITS + "wiring: {xlr: [bax/out 1 -> top/in]}", "names of one place in another"),
    "socket that its kind lacks": (UNITS + "wiring: {xlr: [box/out 99 -> top/in]}", "names of one place in another"),
    "bus that does not exist": (UNITS + "inputs: {1: {name: A, from: box/in 1, mic: dynamic-vocal, to: mian}}",
                                "names of one place in another"),
    "key typed twice": ("show: A\nshow: B", "JSON has lost the first of them; the editor's YAML tells it"),
    "amount that cannot be meant": ("buses: {main: {low-cut: 100 kHz}}", "a pattern that counts with units"),
    "range upside down": ("radio: {bands: [614 MHz - 606 MHz]}", "comparing two numbers in a text"),
    "label smaller than a finger": ("labels: {size: 3 x 3 mm}", "comparing a number in a text"),
    "tilt beyond upright": (UNITS.replace("2 m left", "2 m left, tilt: 120 deg down"), "comparing a number in a text"),
    "file that is not there": ("builds-on: ../no/such.yaml", "looking at a disk"),
    "two channels at one socket": (
        UNITS + "inputs: {1: {name: A, from: box/in 1, mic: dynamic-vocal}, 2: {name: B, from: box/in 1}}",
        "comparing two places of a plan"),
}  # fmt: skip


def refused(text: str) -> bool:
    return not jsonschema.Draft202012Validator(schema()).is_valid(as_editor(text))


def plan_of(text: str) -> str:
    return f"{text}\n" if text.startswith("plan:") else f"plan: 1\n{text}\n"


def told(text: str, folder: Path) -> list[str]:
    (folder / "plan.yaml").write_text(text, "utf-8")
    return [f.check for f in compile_plan(folder / "plan.yaml", folder).findings if f.severity is Severity.ERROR]


@pytest.mark.parametrize("name", REFUSED)
def test_the_schema_refuses_what_check_refuses(name: str, tmp_path: Path) -> None:
    text = plan_of(REFUSED[name])
    assert told(text, tmp_path)
    assert refused(text)


@pytest.mark.parametrize("name", UNTOLD)
def test_what_a_schema_cannot_tell_check_tells(name: str, tmp_path: Path) -> None:
    text = plan_of(UNTOLD[name][0])
    assert told(text, tmp_path)
    assert not refused(text), "the schema tells this now: put it among the others"


def test_an_editor_says_what_to_write() -> None:
    """Instead of the pattern that does not match."""
    validator = jsonschema.Draft202012Validator(schema())
    (error,) = validator.iter_errors(as_editor("plan: 1\nbuses: {main: {delay: 12 m}}\n"))
    assert error.schema["patternErrorMessage"] == "write a time such as `20 ms`"
