"""A secret in every text of the language: each view's files hold those that it may read and no other, in no form.

The keys are taken from the language itself. A text that is new and not named in `READERS` is the crew's alone, so a
page that shows it to others fails here until somebody has decided who may read it.
"""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator
from typing import Any

import pytest

from rigbook.handbook.make import make
from rigbook.handbook.paper import pdf
from rigbook.handbook.themes import find_theme
from rigbook.handbook.views import may_read
from rigbook.language.groups import ListOf, MapOf
from rigbook.language.keys.plan import PLAN
from rigbook.language.shape import Shape
from rigbook.language.values.words import NOTE, TEXT

READERS = {
    "plan.show": "public", "plan.venue": "public", "plan.revision": "public",
    "plan.running-order": "guest", "room.access": "guest", "room.hazards": "guest",
    "kind.title": "guest", "unit.title": "guest", "unit.safety": "guest", "setting.equaliser": "guest",
    "channel.name": "guest", "bus.title": "guest", "bus.monitor-for": "guest", "bus.equaliser": "guest",
    "output.equaliser": "guest", "rack.title": "guest", "circuit.outlets": "guest", "circuit.shared-with": "guest",
}
"""Who may read a text that bears no mark, beside the crew. Whatever of the rig a visiting engineer works with."""
MARKABLE = {
    "unit.text", "unit.serial", "unit.owner", "channel.text", "bus.text", "rack.text",
    "audience area.text", "room.text", "supply.text", "power plan.text", "radio channel.text", "radio plan.text",
    "note.text", "desk note.text", "contact.name", "contact.does", "contact.phone", "contact.mail",
}
"""Texts that `for` beside them opens to more readers."""
GRAMMAR = {
    "plan.library", "plan.builds-on", "kind.routes", "kind.modes", "kind.filters", "kind.capacitance", "unit.mode",
    "unit.routes", "walk-test record.rig", "exception.at",
}
"""Texts that the language itself reads: any other word there is a finding."""
UNSEEN = {"walk-test record.heard", "stock line.text", "kind.text", "exception.reason", "plan.revision"}
"""Texts that need not be on any page of this plan."""


def texts() -> Iterator[str]:
    """`shape.key` of every text of the language."""
    seen: set[str] = set()
    todo = [PLAN]
    while todo:
        shape = todo.pop()
        if shape.name in seen:
            continue
        seen.add(shape.name)
        for key in shape.keys:
            value: Any = key.value
            while isinstance(value, ListOf | MapOf):
                value = value.item if isinstance(value, ListOf) else value.value
            if value is TEXT or value is NOTE:
                yield f"{shape.name}.{key.name}"
            elif isinstance(value, Shape):
                todo.append(value)


def secret(text: str) -> str:
    """The word planted at a text: letters alone, so that no escaping and no anchor changes it."""
    return "Zq" + re.sub("[^a-z]", "", text.lower()) + "qz"


def plan(mark: str) -> str:
    """A plan with a secret at every text that the language does not read itself, each group of keys marked `mark`."""
    speaker: dict[str, Any] = {
        "is": "powered speaker", "ports": {"in": {"direction": "in", "connector": "xlr-female", "level": "line"}}}
    floor: dict[str, Any] = {"from": "4 m left 3 m out", "to": "4 m right 9 m out"}
    show: dict[str, Any] = {
        "plan": 1, "date": "2027-01-02", "doors": "19:00", "running-order": {"20:00": secret("plan.running-order")},
        "room": {"stage": "7 x 4 x 0.5 m", "audience": {"floor": floor}},
        "kinds": {"our-top": speaker},
        "units": {"desk": {"kind": "desk-16"}, "top": {"kind": "our-top", "mount": "hung", "at": "1 m left 2 m up",
                  "settings": {"in": {"gain": "-3 dB"}}}, "rx": {"kind": "radio-receiver"}},
        "inputs": {"1": {"from": "desk/line 1", "mic": "dynamic-vocal", "to": ["main", "mix"]}},
        "buses": {"main": {}, "mix": {"role": "monitor"}},
        "outputs": {"main": {"socket": "desk/out 1"}},
        "wiring": {"xlr": ["desk/out 1 -> top/in, 5 m", "rx/out -> desk/line 1, 2 m"]},
        "racks": {"case": {"kind": "rack-6u", "front": {"1": "rx"}}},
        "power": {"supplies": {"house": {"rating": "32 A"}},
                  "circuits": {"stage": {"supply": "house", "rating": "16 A", "feeds": ["desk", "top", "rx"]}}},
        "radio": {"bands": ["606 MHz - 614 MHz"], "channels": {"rx": {"frequency": "607 MHz"}}},
        "contacts": {"boss": {}}, "notes": {"Heading": {}}, "desk-notes": {"route": {}},
        "stock": {"xlr": {"count": "4"}},
        "walk-tests": [{"date": "2027-01-01", "heard": {"main": secret("walk-test record.heard")}}],
        "exceptions": [{"check": "silent-speaker", "at": "top"}],
    }
    homes: dict[str, list[Any]] = {
        "plan": [show], "room": [show["room"]], "audience area": [floor],
        "kind": [speaker], "unit": [show["units"]["desk"], show["units"]["top"]],
        "setting": [show["units"]["top"]["settings"]["in"]], "channel": [show["inputs"]["1"]],
        "bus": [show["buses"]["main"], show["buses"]["mix"]], "output": [show["outputs"]["main"]],
        "rack": [show["racks"]["case"]], "supply": [show["power"]["supplies"]["house"]],
        "circuit": [show["power"]["circuits"]["stage"]], "power plan": [show["power"]], "radio plan": [show["radio"]],
        "radio channel": [show["radio"]["channels"]["rx"]], "contact": [show["contacts"]["boss"]],
        "note": [show["notes"]["Heading"]], "desk note": [show["desk-notes"]["route"]],
        "stock line": [show["stock"]["xlr"]],
        "walk-test record": [show["walk-tests"][0]], "exception": [show["exceptions"][0]],
    }
    for text in sorted(set(texts()) - GRAMMAR):
        shape, _, key = text.partition(".")
        for home in homes[shape]:
            home.setdefault(key, secret(text))
            if mark and text in MARKABLE:
                home["for"] = mark
    return json.dumps(show, indent=1)  # every JSON is YAML


def reader(text: str, mark: str) -> str:
    """The widest view that may read a text."""
    if text == "kind.title" and mark == "public":
        return "public"  # a unit that is marked public is listed by its kind
    if text in MARKABLE:
        return mark or "crew"
    return READERS.get(text, "crew")


def spoken(files: dict[str, bytes]) -> str:
    """All that the files say: their names, their bytes, and the text of the PDF, which its bytes hide."""
    said = [part.decode("utf-8", "replace") for name, data in files.items() for part in (name.encode(), data)]
    for name, data in files.items():
        if name.endswith(".pdf"):
            import pypdf

            read = pypdf.PdfReader(io.BytesIO(data))
            said += [re.sub(r"[\s\u00ad-]", "", sheet.extract_text()) for sheet in read.pages]
            said += [str(read.metadata), str(read.outline), str(list(read.named_destinations))]
    return "\n".join(said).casefold()


@pytest.mark.parametrize("mark", ["", "guest", "public"])
@pytest.mark.parametrize("view", ["crew", "guest", "public"])
def test_a_view_holds_no_text_that_is_not_for_it(compiled, view: str, mark: str) -> None:
    on_paper = view != "crew" and mark == "" and not pdf.lacking()
    if on_paper:
        pytest.importorskip("pypdf")
    got = compiled(plan(mark))
    assert not [f for f in got.findings if f.check in ("unknown-key", "wrong-shape", "missing-key")]
    said = spoken(make(got, view, find_theme("plain"), with_data=True, with_pdf=on_paper))
    hidden = [t for t in set(texts()) - GRAMMAR if not may_read(view, reader(t, mark))]
    assert hidden or view == "crew"
    assert [t for t in sorted(hidden) if secret(t).casefold() in said] == []
    if view != "public":  # and what is for it is there, or the test would prove nothing
        open_to = [t for t in set(texts()) - GRAMMAR - UNSEEN if may_read(view, reader(t, mark))]
        assert [t for t in sorted(open_to) if secret(t).casefold() not in said] == []


def test_every_text_is_one_or_the_other() -> None:
    found = set(texts())
    assert (set(READERS) | MARKABLE | GRAMMAR | UNSEEN) - found == set(), "no such text any more"
    assert len(found) > 45
