"""What a view may not show is in none of its files: not on a page, not in a name, not in a comment."""

from __future__ import annotations

import re

import pytest

from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme, shipped
from rigbook.handbook.views import may_read

HOUSE = """\
plan: 1
venue: Place
units:
  desk: {kind: desk-16, serial: UNIT-CREW, owner: UNIT-CREW, text: UNIT-CREW}
  top: {kind: powered-top-12, serial: UNIT-GUEST, text: UNIT-GUEST, for: guest}
  sub: {kind: powered-sub-15, text: UNIT-PUBLIC, for: public}
  wedge: powered-wedge-12
room: {capacity: 90, access: ROOM-GUEST, hazards: ROOM-GUEST, text: ROOM-CREW}
contacts:
  role-crew: {name: CONTACT-CREW, phone: CONTACT-CREW, mail: contact-crew@example.org}
  role-guest: {name: CONTACT-GUEST, for: guest}
  role-public: {name: CONTACT-PUBLIC, for: public}
notes:
  NOTE-CREW-title: "NOTE-CREW ![picture](crew-only.png)"
  NOTE-GUEST: {text: NOTE-GUEST, for: guest}
  NOTE-PUBLIC: {text: NOTE-PUBLIC, for: public, page: venue}
  NOTE-CREW about: {text: NOTE-CREW, about: top}
desk-notes: {route: DESK-CREW, patch: {text: DESK-GUEST, for: guest}}
inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, text: CHANNEL-CREW, to: main}}
buses: {main: {text: BUS-CREW}}
outputs: {main: desk/out 1}
wiring: {xlr: ["desk/out 1 -> top/in, 5 m"]}
walk-tests: [{date: 2027-01-01, by: WALKER-CREW, rig: "main:000000", heard: {main: HEARD-CREW}, text: WALK-CREW}]
"""
SHOW = """\
plan: 1
show: Night
builds-on: house.yaml
running-order: {20:00: ORDER-GUEST}
changes:
  REASON-CREW:
    contacts: {role-crew: {name: CONTACT-CREW, phone: CONTACT-CREW new}}
    units: {wedge: {kind: powered-wedge-12, text: CHANGE-CREW}}
exceptions: [{check: silent-speaker, at: wedge, reason: ACCEPTED-CREW}]
"""
WORDS = sorted(set(re.findall(r"[A-Z]+-(?:CREW|GUEST|PUBLIC)", HOUSE + SHOW)))


@pytest.mark.parametrize("theme", shipped())
@pytest.mark.parametrize("view", ["crew", "guest", "public"])
def test_a_view_holds_what_it_may_read_and_nothing_else(compiled, tmp_path, view: str, theme: str) -> None:
    (tmp_path / "house.yaml").write_text(HOUSE, "utf-8")
    (tmp_path / "crew-only.png").write_bytes(b"\x89PNG of the crew")
    files = make(compiled(SHOW), view, find_theme(theme))
    held = b"\n".join(name.encode() + b"\n" + data for name, data in files.items())
    for word in WORDS:
        allowed = may_read(view, word.rpartition("-")[2].lower())
        if not allowed:
            assert word.encode() not in held, f"{word} is in the files of {view}"
    for word in ("contact-crew@", "crew-only", "PNG of the crew", "role-crew"):
        assert (word.encode() in held) == (view == "crew"), word


def test_each_word_of_the_trial_is_shown_to_somebody(compiled, tmp_path) -> None:
    """Otherwise the test above proves nothing. Texts that no page shows at all are named here."""
    (tmp_path / "house.yaml").write_text(HOUSE, "utf-8")
    (tmp_path / "crew-only.png").write_bytes(b"\x89PNG of the crew")
    crew = b"".join(make(compiled(SHOW), "crew", find_theme("plain")).values())
    missing = [w for w in WORDS if w.encode() not in crew]
    assert missing in ([], ["ACCEPTED-CREW"])
    public = b"".join(make(compiled(SHOW), "public", find_theme("plain")).values())
    assert {w for w in WORDS if w.encode() in public} == {"CONTACT-PUBLIC", "NOTE-PUBLIC"}


def test_views_are_ordered() -> None:
    assert [may_read("guest", m) for m in ("crew", "guest", "public")] == [False, True, True]
    assert [may_read("crew", m) for m in ("crew", "guest", "public")] == [True, True, True]
    assert [may_read("public", m) for m in ("crew", "guest", "public")] == [False, False, True]
