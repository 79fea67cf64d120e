"""The fault finder on paper: every pattern of what is heard, and what may be wrong then."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from rigbook.records import frozen
from rigbook.text.phrase import joined
from rigbook.walk.fault import Thing, port_order
from rigbook.walk.hear import SILENT
from rigbook.walk.line_check import Line
from rigbook.walk.record import title_of
from rigbook.walk.say import ALL_OF, AND_MORE, IN_STEP, NOTHING, VALUES, heard_words, value_words
from rigbook.walk.step import Step
from rigbook.walk.suspects import Suspect, grouped
from rigbook.walk.table import HEAR, HEARD, PAIR, Row, Seen, Table

MOST_STEPS = 3
"""A pattern tells of so many steps; whoever has walked them knows enough."""


def titles_of(table: Table) -> dict[str, str]:
    """Titles of steps and lines by their keys."""
    return {item.key: title_of(item) for item in items(table)}


def items(table: Table) -> list[Step | Line]:
    """Steps, then lines, in order."""
    return [*table.steps, *table.lines]


@frozen
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
    titles, place = titles_of(table), table.place
    groups: dict[frozenset[tuple[Seen, str]], list[Row]] = {}
    for row in table.testable:
        groups.setdefault(row.heard, []).append(row)
    made = []
    for heard, rows in groups.items():
        first = min((s.play for s, _ in heard), key=lambda p: place.get(p, 0))
        found = Trouble(first, pattern_words(table, titles, heard, first), grouped((0.0, r) for r in rows))
        made.append((place.get(first, 0), len(heard), found.pattern, found))
    return tuple(m[3] for m in sorted(made, key=lambda m: m[:3]))


def pattern_words(table: Table, titles: Mapping[str, str], heard: Iterable[tuple[Seen, str]], first: str) -> str:
    """What is heard, step by step: the first step without its name, later ones only for what was not said yet."""
    order = table.place
    by_step: dict[str, list[tuple[Seen, str]]] = {}
    for seen, value in heard:
        by_step.setdefault(seen.play, []).append((seen, value))
    said: set[tuple[str, str, str]] = set()
    parts: list[str] = []
    for key in sorted(by_step, key=lambda k: order.get(k, 0)):
        fresh = [item for item in by_step[key] if (item[0].kind, item[0].subject, item[1]) not in said]
        said |= {(s.kind, s.subject, v) for s, v in fresh}
        if fresh:
            words = joined(_together(table, fresh, table.must[key]), "; ")
            parts.append(words if key == first else IN_STEP.format(step=titles.get(key, key), what=words))
    more = [AND_MORE.format(count=len(parts) - MOST_STEPS)] if len(parts) > MOST_STEPS + 1 else parts[MOST_STEPS:]
    return joined((*parts[:MOST_STEPS], *more), "; ")


def _together(table: Table, heard: list[tuple[Seen, str]], must: frozenset[str]) -> Iterator[str]:
    """Boxes of which the same is to be said, in one go."""
    groups: dict[tuple[str, str], list[str]] = {}
    for seen, value in heard:
        groups.setdefault((seen.kind, value_words(seen, value)), []).append(seen.subject)
    for (kind, value), subjects in sorted(groups.items(), key=lambda item: (HEARD.index(item[0][0]), item[0])):
        if kind == HEAR and value == VALUES[SILENT] and len(must) > 1 and must == set(subjects):
            yield NOTHING
        else:
            yield heard_words(kind, value, _by_bus(table, subjects) if kind != PAIR else sorted(subjects))


def _by_bus(table: Table, boxes: list[str]) -> list[str]:
    """Boxes in order, those of a whole bus under its name."""
    left, out = set(boxes), []
    for name in table.buses_among(boxes):
        whole = table.buses[name]
        if len(whole) > 1 and whole <= left:
            left -= whole
            out.append(ALL_OF.format(bus=name))
    return [*out, *sorted(left, key=port_order)]
