"""A visiting engineer with nothing but the guest pages finds the answer to ten questions within two taps of the front.

The questions are those of somebody who walks in an hour before doors. Each answer is read from the lines of the plan by
itself, and looked for where the taps lead: in the very place, or in the row that names what was asked for.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from helpers.dom import Node, holds, read
from helpers.tools import ROOT
from rigbook.handbook.make import make
from rigbook.handbook.themes import find_theme
from rigbook.pipeline import compile_plan


@dataclass(frozen=True)
class Question:
    """What is asked, the texts of the links that are tapped, what is looked for there, and the answer in the plan."""

    asked: str
    taps: tuple[str, ...]
    subject: str
    answer: Callable[[Any], str]


def q(asked: str, taps: str, subject: str, answer: Callable[[Any], str]) -> Question:
    return Question(asked, tuple(taps.split(" > ")), subject, answer)


def circuit_of(plan: Any, unit: str) -> str:
    """The circuit that feeds a unit."""
    circuits = plan["power"]["circuits"]
    feeds = {n: [c["feeds"]] if isinstance(c["feeds"], str) else c["feeds"] for n, c in circuits.items()}
    return next(name for name, units in feeds.items() if unit in units)


def carrier(plan: Any, receiver: str) -> str:
    """The frequency of a receiver, to the kHz as it is set."""
    number, unit = plan["radio"]["channels"][receiver]["frequency"].split()
    return f"{float(number):.3f} {unit}"


def line_from(plan: Any, start: str) -> str:
    """The far end of the cable that starts at a socket: its unit."""
    lines = [line for kind in plan["wiring"].values() for line in kind]
    return next(x for x in lines if x.startswith(f"{start} -> ")).split(" -> ")[1].split(",")[0].split("/")[0]


HALL = (
    q("Where does mix 2 come out?", "Ten minutes", "mix-2", lambda p: p["outputs"]["mix-2"]),
    q("Which breaker feeds the sub amplifier?", "Power", "amp-subs", lambda p: circuit_of(p, "amp-subs")),
    q("How big is that breaker?", "Power", "stage-right", lambda p: p["power"]["circuits"]["stage-right"]["rating"]),
    q("Which wedge plays mix 2?", "Routing > mix-2", "mix-2", lambda p: line_from(p, "amp-wedges/out B")),
    q("What plugs into output A of the tops' amplifier?", "Patch", "amp-tops/out A",
      lambda p: line_from(p, "amp-tops/out A")),
    q("Where is the subs' low-pass set?", "Ten minutes > subs", "subs",
      lambda p: p["buses"]["subs"]["high-cut"].replace(" lr ", " Linkwitz-Riley ")),
    q("How loud may it be?", "Ten minutes", "A-weighted", lambda p: p["room"]["noise-limit"]),
    q("Whom do I ask about sound?", "Ten minutes", "house technician", lambda p: p["contacts"]["Sound"]["name"]),
    q("Where in the rack is the wedges' amplifier?", "Racks", "amp-wedges", lambda p: "6"),
    q("What hangs low?", "Venue", "stage front", lambda p: "2.9 m"),
)
QUESTIONS = {
    "rural-hall/reel-night.yaml": ("rural-hall/house.yaml", HALL),
    "rural-hall/parish-revue.yaml": ("rural-hall/house.yaml", HALL),
    "chapel/lessons-and-songs.yaml": ("chapel/lessons-and-songs.yaml", (
        q("Where does the foldback come out?", "Ten minutes", "foldback", lambda p: p["outputs"]["foldback"]),
        q("Which breaker feeds the left pillar?", "Power", "pillar-left", lambda p: circuit_of(p, "pillar-left")),
        q("How long is the delay of the rear pews?", "Ten minutes", "rear", lambda p: p["buses"]["rear"]["delay"]),
        q("Who hears the foldback?", "Routing > foldback", "foldback", lambda p: p["buses"]["foldback"]["monitor-for"]),
        q("On which frequency is the lapel?", "Radio", "rx-lapel", lambda p: carrier(p, "rx-lapel")),
        q("Which channel is the pulpit?", "Patch", "Pulpit", lambda p: p["inputs"][2]["from"]),
        q("How loud may it be?", "Ten minutes", "A-weighted", lambda p: p["room"]["noise-limit"]),
        q("Who has the key?", "Ten minutes", "opens the chapel and looks after the loop",
          lambda p: p["contacts"]["Steward"]["phone"]),
        q("Where does the recorder sit?", "Racks", "recorder", lambda p: "1"),
        q("Where do I plug in for the chancel circuit?", "Power", "chancel",
          lambda p: p["power"]["circuits"]["chancel"]["outlets"]),
    )),
    "festival/meadow.yaml": ("festival/meadow.yaml", (
        q("Where does mix 2 of the monitors come out?", "Ten minutes", "monitors mix-2",
          lambda p: p["outputs on monitors"]["mix-2"]),
        q("Which breaker feeds the second wedge amplifier?", "Power", "amp-wedges-2",
          lambda p: circuit_of(p, "amp-wedges-2")),
        q("How long is the delay of the delay towers?", "Ten minutes", "foh delays",
          lambda p: p["buses on foh"]["delays"]["delay"]),
        q("And of the front fills?", "Routing", "fills", lambda p: p["buses on foh"]["fills"]["delay"]),
        q("Where is the lead vocal plugged?", "Patch", "Lead vocal", lambda p: p["inputs on foh"][43]["plugged"]),
        q("Which box hangs on output D of the mains amplifier?", "Patch", "amp-mains/out D",
          lambda p: line_from(p, "amp-mains/out D")),
        q("On which frequency is the second radio microphone?", "Radio", "rx-2", lambda p: carrier(p, "rx-2")),
        q("Whose mix is ears 1?", "Ten minutes", "monitors ears-1",
          lambda p: p["buses on monitors"]["ears-1"]["monitor-for"]),
        q("Who looks after monitors?", "Ten minutes", "monitors and patch",
          lambda p: p["contacts"]["Monitors"]["name"]),
        q("Where is the outlet of the mix position's circuit?", "Power", "meadow-mix",
          lambda p: p["power"]["circuits"]["meadow-mix"]["outlets"]),
    )),
    "festival/orchard.yaml": ("festival/orchard.yaml", (
        q("Where does the strings' mix come out?", "Ten minutes", "monitors mix-2",
          lambda p: p["outputs on monitors"]["mix-2"]),
        q("Which breaker feeds the drums' amplifier?", "Power", "amp-drums", lambda p: circuit_of(p, "amp-drums")),
        q("How long is the delay among the trees?", "Ten minutes", "foh delays",
          lambda p: p["buses on foh"]["delays"]["delay"]),
        q("Which box does the left side feed first?", "Patch", "foh-box-1/out 3",
          lambda p: line_from(p, "foh-box-1/out 3")),
        q("Where is the centre voice plugged?", "Patch", "Voice centre", lambda p: p["inputs on foh"][37]["plugged"]),
        q("On which frequency is the headset?", "Radio", "rx-headset", lambda p: carrier(p, "rx-headset")),
        q("Whose mix is ears 3?", "Ten minutes", "monitors ears-3",
          lambda p: p["buses on monitors"]["ears-3"]["monitor-for"]),
        q("Who gives the phantom power?", "Ten minutes", "monitors and patch; gives the phantom power",
          lambda p: p["contacts"]["Monitors"]["name"]),
        q("Where is the outlet of the delays' circuit?", "Power", "orchard-field",
          lambda p: p["power"]["circuits"]["orchard-field"]["outlets"]),
        q("Where do the fills come in?", "Routing", "fills", lambda p: p["outputs on foh"]["fills"]),
    )),
}


@cache
def site(show: str) -> dict[str, Node]:
    """The guest pages of a show."""
    files = make(compile_plan(ROOT / "shows" / show), "guest", find_theme("plain"))
    return {name: read(data.decode("utf-8")) for name, data in files.items() if name.endswith(".html")}


def reached(pages: dict[str, Node], question: Question) -> Node | None:
    """Where the taps lead: the place itself, else the smallest row or block that names the subject and the answer."""
    page, place = "index.html", None
    for tap in question.taps:
        addresses = [a for text, a in pages[page].links() if text == tap or text.split(" ", 1)[-1] == tap]
        assert addresses, f"there is no link `{tap}` on {page}"
        name, _, ident = addresses[0].partition("#")
        page = name or page
        place = pages[page].by_id(ident) if ident else None
        assert place or not ident, f"`{tap}` leads nowhere"
    return place


@pytest.mark.parametrize("show", QUESTIONS)
def test_ten_questions(show: str, subtests: pytest.Subtests) -> None:
    source, questions = QUESTIONS[show]
    plan = yaml.safe_load((ROOT / "shows" / source).read_text("utf-8"))
    assert len(questions) == 10
    for question in questions:
        with subtests.test(question=question.asked):
            assert len(question.taps) <= 2
            answer = str(question.answer(plan))
            pages = site(show)
            place = reached(pages, question)
            if place is None:
                page = next(a for t, a in pages["index.html"].links() if t.split(" ", 1)[-1] == question.taps[0])
                place = pages[page].smallest(question.subject, answer)
                assert place, f"`{question.subject}` with `{answer}` stands in no row of {page}"
                assert place.tag != "section", f"`{answer}` is not beside `{question.subject}` on {page}"
            text = place.text.replace("\u00a0", " ").replace("\u202f", " ")
            assert holds(text, answer), f"`{answer}` is not in: {text[:300]}"


def test_the_questions_are_of_shipped_shows() -> None:
    assert all((Path(ROOT) / "shows" / show).is_file() for show in QUESTIONS)
