"""From what was heard to what is probably wrong, and what to try next.

The page does the same in the browser (`walk-test-finder.js`); both work on the rows of the table alone, so that the
same answers give the same suspects. A fault fits an answer where the table says just that; an answer of another shade
of wrong sound counts half, since words for sound differ from person to person.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence, Set
from itertools import combinations
from math import log2
from typing import Final

from rigbook.records import frozen
from rigbook.walk.fault import effort
from rigbook.walk.hear import BOOMY, BRIGHT, DULL, FIRST_A, FIRST_B, HOLLOW, LOUD, QUIET, THIN
from rigbook.walk.table import EXCHANGE, HEARD, LIGHT, Row, Seen, Table

Answers = Mapping[Seen, str]
"""What was heard or seen; the empty text where it was as planned."""

SHADES: Final = (frozenset((QUIET, LOUD, THIN, BOOMY, DULL, BRIGHT)), frozenset((HOLLOW, FIRST_A, FIRST_B)))
HALF: Final = 0.5
TOLD: Final = 1.0
"""Minutes that any test takes beside the look itself: said, done by another person, answered (common practice)."""
REPLACE: Final = "replace"
MOST_PAIRED: Final = 40
"""Faults that are tried in pairs; the likeliest only."""


@frozen
class Suspect:
    """Faults that nothing tells apart, or two faults together."""

    rows: tuple[Row, ...]
    misses: float
    """Answers that do not fit."""
    both: bool = False
    """The rows are two faults at once, not one or the other."""
    unsaid: int = 0
    """Things found wrong of which the table does not say whether it makes them so."""

    @property
    def cost(self) -> float:
        """What it costs to check, less where it is likelier."""
        each = [r.fault.effort / r.fault.odds for r in self.rows]
        return sum(each) + 2 if self.both else min(each)


def suspects(table: Table, answers: Answers) -> tuple[Suspect, ...]:
    """The faults that fit best, nearest and cheapest to check first; pairs where no single one fits.

    What the table says of everything found wrong comes before what it only does not rule out.
    """
    wrong = {s: v for s, v in answers.items() if v}
    if not wrong:
        return ()
    rows = [table.testable[i] for i in sorted(_explaining(table, wrong))]
    scored = [(misses(table, row, answers, wrong), row) for row in rows]
    best = min((m for m, _ in scored), default=1.0)
    if best > 0:
        pairs = _pairs(table, rows, answers, wrong, best)
        if pairs:
            return pairs
    return grouped([(m, row) for m, row in scored if m == best], lambda row: unsaid(table, row, wrong))


def predicted(table: Table, row: Row, seen: Seen) -> str | None:
    """What a fault makes of something; None where the table does not say.

    Faults behind the desk are not tried in the line check: what they change there is what they change in the steps,
    but how is not said.
    """
    if row.behind and seen.play in table.line_keys and seen.subject in row.touched:
        return None
    return row.effects.get(seen, "")


def _explaining(table: Table, wrong: Answers) -> set[int]:
    """Rows that make, or may make, at least one of the things wrong that were found wrong."""
    found = {i for s in wrong for i in table.showing.get(s, ())}
    return found | {i for s in wrong if s.play in table.line_keys for i in table.touching.get(s.subject, ())}


def misses(table: Table, row: Row, answers: Answers, wrong: Answers) -> float:
    """How many answers a fault does not fit; `wrong` are those of them that were not as planned."""
    return sum(miss(predicted(table, row, s), v) for s, v in wrong.items()) + len(_strange(row, answers))


def miss(expected: str | None, heard: str) -> float:
    """0 where the words agree or nothing is said, 1/2 for another shade, else 1."""
    if expected is None or expected == heard:
        return 0.0
    return HALF if any(expected in shade and heard in shade for shade in SHADES) else 1.0


def unsaid(table: Table, row: Row, wrong: Answers) -> int:
    """Of how many things found wrong the table does not say whether the fault makes them so."""
    return sum(predicted(table, row, s) is None for s in wrong)


def _strange(row: Row, answers: Answers) -> frozenset[Seen]:
    """Things that the fault would make wrong and that were found as planned."""
    return frozenset(s for s in row.effects if answers.get(s) == "")


def grouped(scored: Iterable[tuple[float, Row]], vague: Callable[[Row], int] = lambda _: 0) -> tuple[Suspect, ...]:
    """Faults of which everything that can be heard or seen is the same, together; cheapest to check first.

    `vague` tells of a row how much the table leaves unsaid of it.
    """
    groups: dict[frozenset[tuple[Seen, str]], list[tuple[float, Row]]] = {}
    for m, row in scored:
        groups.setdefault(row.pattern, []).append((m, row))
    made = [
        Suspect(tuple(r for _, r in group), group[0][0], unsaid=min(vague(r) for _, r in group))
        for group in groups.values()
    ]
    return tuple(sorted(made, key=lambda s: (s.misses, s.unsaid, s.cost)))


def _pairs(
    table: Table, rows: Sequence[Row], answers: Answers, wrong: Answers, best: float
) -> tuple[Suspect, ...]:
    """Two faults at once that fit better than any one: what one of them makes wrong is wrong."""
    useful = [r for r in rows if any(predicted(table, r, s) == v for s, v in wrong.items())]
    odd = {id(r): _strange(r, answers) for r in useful}
    useful.sort(key=lambda r: (len(odd[id(r)]), r.fault.effort / r.fault.odds))
    found = []
    for one, two in combinations(useful[:MOST_PAIRED], 2):
        both = [(_either(table, (one, two), s, v), v) for s, v in wrong.items()]
        count = sum(miss(said, v) for said, v in both) + len(odd[id(one)] | odd[id(two)])
        if count < best:
            found.append(Suspect((one, two), count, both=True, unsaid=sum(said is None for said, _ in both)))
    least = min((s.misses for s in found), default=0.0)
    kept = [s for s in found if s.misses == least]
    return tuple(sorted(kept, key=lambda s: (s.unsaid, s.cost)))


def _either(table: Table, rows: tuple[Row, Row], seen: Seen, heard: str) -> str | None:
    """What two faults together make of something: what either makes of it, the one that fits where both do."""
    every = [predicted(table, row, seen) for row in rows]
    said = [p for p in every if p]
    if heard in said:
        return heard
    return said[0] if said else None if None in every else ""


@frozen
class Probe:
    """A test that tells suspects apart."""

    seen: Seen
    outcomes: tuple[tuple[str, tuple[int, ...]], ...]
    """What may come out, and the suspects (by place in the list) that would give it; first the planned one."""
    gain: float
    """Bits that it tells."""
    cost: float


def next_probe(
    table: Table, left: Sequence[Suspect], answers: Answers, unsure: Set[Seen] = frozenset()
) -> Probe | None:
    """The most telling test still open, for what it costs; of a lone suspect the cheapest test that confirms it.

    None where nothing tells the suspects apart, or the lone one was seen. What one is `unsure` of is not asked again.
    """
    playing = frozenset(s.play for s in answers if s.kind in HEARD)
    if len(left) == 1:
        return _confirming(table, left[0], answers, unsure, playing)
    probes = [p for seen in sorted(_open(left, answers) - unsure) if (p := _probe(table, left, seen, playing))]
    return max(probes, key=lambda p: (round(p.gain / p.cost, 9), round(p.gain, 9), p.seen), default=None)


def _confirming(
    table: Table, suspect: Suspect, answers: Answers, unsure: Set[Seen], playing: frozenset[str]
) -> Probe | None:
    """A look that shows it, where none has shown it yet; of two faults at each in turn."""
    for row in suspect.rows if suspect.both else suspect.rows[:1]:
        looks = {s: v for s, v in row.effects.items() if s.kind not in HEARD}
        if not any(answers.get(s) == v for s, v in looks.items()):
            open_ = looks.keys() - answers.keys() - unsure
            if open_:
                # the place itself tells more than a light elsewhere, and a look comes before a spare part
                prices = {s: _price(table, s, playing, (suspect,)) for s in open_}
                seen = min(open_, key=lambda s: (s.play, s.kind == REPLACE, prices[s], s))
                return Probe(seen, (("", ()), (row.effects[seen], (0,))), 0.0, prices[seen])
    return None


def _open(left: Sequence[Suspect], answers: Answers) -> set[Seen]:
    return {s for suspect in left for row in suspect.rows for s in row.effects} - answers.keys()


def _probe(table: Table, left: Sequence[Suspect], seen: Seen, playing: frozenset[str]) -> Probe | None:
    outcomes: dict[str, list[int]] = {}
    weights: dict[str, float] = {}
    for i, suspect in enumerate(left):
        every = [predicted(table, r, seen) for r in suspect.rows]
        value = next((p for p in every if p), "")
        if not value and None in every:
            return None
        outcomes.setdefault(value, []).append(i)
        weights[value] = weights.get(value, 0.0) + sum(r.fault.odds for r in suspect.rows)
    if len(outcomes) < 2:
        return None
    whole = sum(weights.values())
    gain = -sum(w / whole * log2(w / whole) for w in weights.values())
    order = sorted(outcomes, key=lambda v: (v != "", v))
    return Probe(seen, tuple((v, tuple(outcomes[v])) for v in order), gain, _price(table, seen, playing, left))


def _price(table: Table, seen: Seen, playing: frozenset[str], left: Sequence[Suspect]) -> float:
    """What a test costs, about in minutes; a step that has been played costs less to play again."""
    fixed = cost_of(table, seen)
    if fixed:
        return TOLD + fixed - (1.5 if seen.kind in HEARD else 1.0) * (seen.play in playing)
    return TOLD + min((r.fault.effort for s in left for r in s.rows if seen in r.effects), default=2.0)


def cost_of(table: Table, seen: Seen) -> float:
    """What it costs to play a step and to listen or look; 0 for a look without sound, which costs what its check does.

    Two cables are exchanged in two minutes where one stands before them (common practice).
    """
    if seen.kind in HEARD:
        return 2.0
    if seen.kind == LIGHT:
        unit = table.rig.plan.units.get(seen.subject.partition("/")[0])
        return 1.5 if unit is None or unit.family == "desk" else 3.0
    return 2.0 + effort(table.rig, seen.subject.split("|")[2]) if seen.kind == EXCHANGE else 0.0


def narrowed(table: Table, answers: Answers, probe: Probe, value: str) -> tuple[dict[Seen, str], tuple[Suspect, ...]]:
    """Answers with the outcome of a test added, and the suspects that are left."""
    more = {**answers, probe.seen: value}
    return more, suspects(table, more)
