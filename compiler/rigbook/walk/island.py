"""The table of faults as data for the script of a page, each thing written once.

A rig of a hundred inputs has some 50,000 outcomes. Written out they are megabytes, on a phone in a dark room. Most of
them repeat: a silent channel silences the same boxes whatever silenced it, and a sentence is a few words around names.
So sentences are runs of pieces and names by number, outcomes are numbered, what a fault does in one play is a set of
outcomes, and what it does in all plays is a run of play and set. `walk-test-finder.js` reads it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from typing import Any, TypeVar

from rigbook.records import field, frozen
from rigbook.walk.record import title_of
from rigbook.walk.say import FROM, PLANNED, VALUES, order_of
from rigbook.walk.suspects import cost_of
from rigbook.walk.table import HEARD, LIGHT, Row, Seen, Table

Href = Callable[[str, str], str]
Say = Callable[[str], str]
"""What was said in English, in the language of the page."""
T = TypeVar("T")


class Numbers(dict[T, int]):
    """Numbers things in the order in which they are first asked for."""

    def of(self, thing: T) -> int:
        """The number of a thing."""
        return self.setdefault(thing, len(self))


@frozen
class Island:
    """What the numbers in the data stand for."""

    table: Table
    href: Href
    say: Say
    pieces: Numbers[str] = field(default_factory=Numbers)
    names: Numbers[tuple[str, str]] = field(default_factory=Numbers)
    plays: Numbers[str] = field(default_factory=Numbers)
    things: Numbers[tuple[str, str]] = field(default_factory=Numbers)
    words: Numbers[str] = field(default_factory=Numbers)
    outcomes: Numbers[tuple[int, int]] = field(default_factory=Numbers)
    sets: Numbers[tuple[int, ...]] = field(default_factory=Numbers)
    patterns: Numbers[tuple[int, ...]] = field(default_factory=Numbers)
    orders: Numbers[str] = field(default_factory=Numbers)
    kinds: Numbers[str] = field(default_factory=Numbers)
    heads: Numbers[str] = field(default_factory=Numbers)
    known: dict[tuple[Seen, str], tuple[str, int]] = field(default_factory=dict)
    """By what is heard or seen: its play and the number of the outcome."""

    def fault(self, row: Row) -> list[Any]:
        """Its sentence, its check, label, effort, odds, 1 for behind the desk, pattern, and what a look shows."""
        fault = row.fault
        places = {self.say(t.called or t.name): self.href(t.sort, t.name) for t in fault.things}
        looks, pattern = self.effects(row)
        sentences = (self.sentence(self.say(text), places) for text in (fault.words, fault.check))
        label = self.pieces.of(fault.label) if fault.label else -1
        return [*sentences, label, _short(fault.effort), _short(fault.odds), int(row.behind), pattern, looks]

    def sentence(self, text: str, places: dict[str, str]) -> list[int]:
        """Pieces and names in turn, a piece first."""
        parts = enumerate(text.split("`"))
        return [self.names.of((p, places.get(p, ""))) if i % 2 else self.pieces.of(p) for i, p in parts]

    def effects(self, row: Row) -> tuple[int, int]:
        """What a look shows, as the number of a set; what plays let hear and see, as the number of a pattern."""
        by_play: dict[str, set[int]] = {"": set()}
        known = self.known
        for item in row.effects.items():
            found = known.get(item)
            if found is None:
                seen, value = item
                thing = self.things.of((seen.kind, seen.subject))
                found = known[item] = (seen.play, self.outcomes.of((thing, self.words.of(value))))
            if found[0] in by_play:
                by_play[found[0]].add(found[1])
            else:
                by_play[found[0]] = {found[1]}
        sets = {play: self.sets.of(tuple(sorted(found))) for play, found in by_play.items()}
        looks = sets.pop("")
        pattern = sorted((self.plays.of(play), found) for play, found in sets.items())
        return looks, self.patterns.of(tuple(n for pair in pattern for n in pair))

    def thing(self, kind: str, subject: str) -> list[Any]:
        """Kind, subject, the order to look or listen, what that costs, and what it is called where that is not it."""
        seen = Seen(kind, "", subject)
        order, what = order_of(self.table.rig, seen)
        cost = 0 if kind in HEARD else _short(cost_of(self.table, seen))
        called = [self.say(what)] if kind == LIGHT and what != subject else []
        more = [cost, *called] if cost or called else []
        return [self.kinds.of(kind), subject, self.orders.of(self.say(order)), *more]

    def named(self, name: str, place: str) -> list[Any]:
        """A name and the address of its place: what stands before its own letters there, by number, or all of it."""
        letters = _letters(name)
        if not place:
            return [name]
        head = place.removesuffix(letters)
        return [name, self.heads.of(head) if place.endswith(letters) and head.endswith(("#", "-")) else place]


def _letters(name: str) -> str:
    """A name as most addresses have it. The script does the same; an address that is made otherwise is written out."""
    plain = name.replace("/", "--").replace(" -> ", "---").replace(" ", "-")
    return plain if re.fullmatch(r"[A-Za-z0-9.-]*", plain) else "?"


def data(table: Table, href: Href, say: Say = str) -> dict[str, Any]:
    """What the script of the page needs: things to hear or see, and every testable fault with what it makes of them."""
    made = Island(table, href, say)
    lines = {item.key: title_of(item) for item in table.lines}
    titles = {item.key: title_of(item) for item in table.steps} | lines
    for key in titles:
        made.plays.of(key)
    faults = [made.fault(row) for row in table.testable]
    things = [made.thing(kind, subject) for kind, subject in made.things]
    return {
        "values": {value: say(words) for value, words in VALUES.items()},
        "planned": {kind: say(words) for kind, words in PLANNED.items()},
        "from": say(FROM),
        "orders": list(made.orders),
        "kinds": list(made.kinds),
        "plays": [[key, say(titles[key]), int(key in lines)] for key in made.plays],
        "things": things,
        "words": list(made.words),
        "outcomes": [n for outcome in made.outcomes for n in outcome],
        "sets": list(made.sets),
        "patterns": list(made.patterns),
        "pieces": list(made.pieces),
        "names": [made.named(name, place) for name, place in made.names],
        "heads": list(made.heads),
        "faults": faults,
    }


def _short(number: float) -> float | int:
    return int(number) if number == int(number) else number


def script_data(found: dict[str, Any]) -> str:
    """JSON that can stand inside a script element."""
    return json.dumps(found, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")
