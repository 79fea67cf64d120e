"""The fault finder for a page: the table as data for its script, and as rows for paper."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from rigbook.walk.fault import Thing
from rigbook.walk.line_check import Line
from rigbook.walk.record import title_of
from rigbook.walk.say import VALUES, probe_words, seen_words, value_words
from rigbook.walk.step import Step
from rigbook.walk.suspects import Suspect, cost_of, grouped
from rigbook.walk.table import Row, Seen, Table

Href = Callable[[str, str], str]


def data(table: Table, href: Href) -> dict[str, Any]:
    """What the script of the page needs: things to hear or see, and every testable fault with what it makes of them."""
    every = sorted({s for row in table.testable for s in row.effects})
    number = {s: i for i, s in enumerate(every)}
    titles = titles_of(table)
    return {
        "values": dict(VALUES),
        "seen": [_seen(table, s, titles) for s in every],
        "faults": [_fault(row, number, href) for row in table.testable],
    }


def script_data(found: dict[str, Any]) -> str:
    """JSON that can stand inside a script element."""
    return json.dumps(found, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")


def titles_of(table: Table) -> dict[str, str]:
    """Titles of steps and lines by their keys."""
    return {item.key: title_of(item) for item in items(table)}


def items(table: Table) -> list[Step | Line]:
    """Steps, then lines, in order."""
    return [*table.steps, *table.lines]


def _seen(table: Table, seen: Seen, titles: dict[str, str]) -> list[Any]:
    """Kind, play, subject, the test as an order, how the planned outcome looks, and what a light costs to look at."""
    order = probe_words(table.rig, seen, titles.get(seen.play, ""))
    cost = cost_of(table, seen)
    return [seen.kind, seen.play, seen.subject, order, value_words(seen, ""), cost]


def _fault(row: Row, number: dict[Seen, int], href: Href) -> dict[str, Any]:
    fault = row.fault
    places = [[t.name, href(t.sort, t.name)] for t in fault.things]
    effects = [[number[s], value] for s, value in row.effects.items()]
    return {
        "w": fault.words,
        "c": fault.check,
        "l": fault.label,
        "h": places,
        "e": fault.effort,
        "o": fault.odds,
        "b": int(row.behind),
        "s": effects,
    }


@dataclass(frozen=True)
class Trouble:
    """A pattern of what is heard, and what may be wrong then, cheapest to check first."""

    step: str
    """Key of the first step that shows it."""
    pattern: str
    suspects: tuple[Suspect, ...]

    @property
    def things(self) -> tuple[Thing, ...]:
        """Everything in question, each once."""
        return tuple(dict.fromkeys(t for s in self.suspects for r in s.rows for t in r.fault.things))


def troubles(table: Table) -> tuple[Trouble, ...]:
    """Every pattern that some fault gives, in the order of the steps; simple patterns first."""
    place = {item.key: i for i, item in enumerate(items(table))}
    groups: dict[frozenset[tuple[Seen, str]], list[Row]] = {}
    for row in table.testable:
        groups.setdefault(row.heard, []).append(row)
    made = []
    for heard, rows in groups.items():
        first = min((s.play for s, _ in heard), key=lambda p: place.get(p, 0))
        found = Trouble(first, pattern_words(table, heard, first), grouped((0.0, r) for r in rows))
        made.append((place.get(first, 0), len(heard), found.pattern, found))
    return tuple(m[3] for m in sorted(made, key=lambda m: m[:3]))


def pattern_words(table: Table, heard: Iterable[tuple[Seen, str]], first: str) -> str:
    """What is heard, step by step: the first step without its name, later ones only for what was not said yet."""
    titles = titles_of(table)
    by_step: dict[str, list[tuple[Seen, str]]] = {}
    for seen, value in heard:
        by_step.setdefault(seen.play, []).append((seen, value))
    order = {item.key: i for i, item in enumerate(items(table))}
    said: set[tuple[str, str, str]] = set()
    parts = []
    for key in sorted(by_step, key=lambda k: order.get(k, 0)):
        fresh = sorted(item for item in by_step[key] if (item[0].kind, item[0].subject, item[1]) not in said)
        said |= {(s.kind, s.subject, v) for s, v in fresh}
        if fresh:
            words = ", ".join(f"{seen_words(table.rig, s)} {value_words(s, v)}" for s, v in fresh)
            parts.append(words if key == first else f"in {titles.get(key, key)}: {words}")
    return "; ".join(parts)
