"""Records of walk tests: what people heard, put together from every record of the plan, and what has to be heard again.

Records of one day are one walk, however many phones and people took part, and whatever the order of the records:

1. Of one person the latest word on a step counts. Records without a name are told apart by what the page writes there.
2. Of several people, one who heard something wrong counts over one who heard it as expected.
3. A word on the step as the plan has it now counts over words on other versions of it on that day.

A step that was not walked on the newest day keeps what was heard on the day before, so that after a change only the
steps that it touches have to be walked.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any, Final

from rigbook.graph.rig import Rig
from rigbook.graph.words import side
from rigbook.language.record import Record
from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.walk.line_check import Line, line_check
from rigbook.walk.prints import fingerprints, rig_print
from rigbook.walk.step import Step
from rigbook.walk.steps import steps

AS_EXPECTED: Final = "as expected"
UNKNOWN: Final = "?"
"""Fingerprint of a step in a record that names another rig as a whole."""


@frozen
class Word:
    """What one record says of one step."""

    step: str
    said: str
    date: str
    time: str
    """`18:20`; empty where the record does not say."""
    by: str
    print: str
    """Fingerprint of the step as it was; empty where the record names no rig."""

    @property
    def good(self) -> bool:
        """It was as it must be."""
        return self.said == AS_EXPECTED


@frozen
class Walk:
    """The newest day on which somebody walked."""

    date: str
    by: tuple[str, ...]
    """Names, in the order of their records by time; empty texts left out."""
    words: tuple[Word, ...]
    """What counts for each step walked that day, in walking order."""
    notes: tuple[Record, ...]
    """Records of the day that carry a note."""
    known: bool
    """True where a record of the plan says which rig was walked, so that it can be seen what has changed since."""


@frozen
class Stale:
    """A step that has to be walked again."""

    key: str
    title: str
    why: str
    """`changed since`, `not walked`, or `not as expected`."""
    said: str = ""
    """What was heard instead, as people wrote it; empty where that is not why."""


CHANGED: Final = phrase("changed since")
NOT_WALKED: Final = phrase("not walked")
WRONG: Final = phrase("not as expected")


def records(rig: Rig) -> tuple[Record, ...]:
    """Every record of the plan that names a day."""
    every = rig.plan.sections.get("walk-tests", ())
    return tuple(r for r in every if isinstance(r, Record) and r.get("date"))


def last_walk(rig: Rig, now: Mapping[str, str] | None = None) -> Walk | None:
    """The newest day of walking; None where the plan holds no record. `now` are its fingerprints, if at hand."""
    every = records(rig)
    if not every:
        return None
    date = max(str(r.get("date")) for r in every)
    day = sorted((r for r in every if str(r.get("date")) == date), key=lambda r: (_time(r), str(r.get("by") or "")))
    prints = fingerprints(rig) if now is None else now
    said = [w for r in day for w in _words(r, prints)]
    return Walk(
        date,
        tuple(dict.fromkeys(str(r.get("by")) for r in day if r.get("by"))),
        tuple(w for key in _in_order(prints, said) if (w := _counts(key, said, prints))),
        tuple(r for r in day if r.get("text")),
        any(r.get("rig") for r in every),
    )


def _in_order(prints: Mapping[str, str], said: list[Word]) -> tuple[str, ...]:
    """Steps that words speak of: those of the rig in walking order, then those that it no longer has."""
    spoken = dict.fromkeys(w.step for w in said)
    return (*(key for key in prints if key in spoken), *sorted(key for key in spoken if key not in prints))


def _counts(step: str, said: list[Word], now: Mapping[str, str]) -> Word | None:
    """The word on a step that counts, of the words given: the newest day, then as the rules of this module say."""
    mine = [w for w in said if w.step == step]
    mine = [w for w in mine if w.date == max(x.date for x in mine)]
    mine = [w for w in mine if w.print == now.get(step)] or mine
    people: dict[str, Word] = {}
    for word in sorted(mine, key=lambda w: (w.time, not w.good, w.said)):
        people[word.by] = word
    # of equals the first by name, so that the order of records never matters
    return min(people.values(), key=lambda w: (w.good, w.by, w.said), default=None)


def _words(record: Record, now: Mapping[str, str]) -> Iterator[Word]:
    date, by = str(record.get("date")), str(record.get("by") or "")
    rig = str(record.get("rig") or "")
    then = dict(now) if rig and rig == rig_print(now) else parse_rig(rig)
    for entry in record.get("heard", ()):
        if entry.value is not None:
            print_ = then.get(entry.name, UNKNOWN) if rig else ""
            yield Word(entry.name, str(entry.value).strip(), date, _time(record), by, print_)


def _time(record: Record) -> str:
    return str(record.get("time") or "")


def standing(rig: Rig, now: Mapping[str, str]) -> dict[str, Word]:
    """For each step that was ever walked, the word that counts. Records that name no rig prove nothing about it."""
    said = [w for r in records(rig) if r.get("rig") for w in _words(r, now)]
    return {key: w for key in now if (w := _counts(key, said, now))}


def stale_steps(rig: Rig, now: Mapping[str, str] | None = None) -> tuple[Stale, ...]:
    """Steps to walk again: changed since they were walked, never walked, or not as expected.

    Empty where no record says which rig was walked. Lines of the line check count once a record speaks of any.
    """
    if not any(r.get("rig") for r in records(rig)):
        return ()
    prints = fingerprints(rig) if now is None else now
    counts = standing(rig, prints)
    lines = line_check(rig)
    known = any(line.key in counts for line in lines)
    items: list[Step | Line] = [*steps(rig), *(lines if known else ())]
    out = []
    for item in items:
        why = _why(counts.get(item.key), prints[item.key])
        if why:
            said = counts[item.key].said if why == WRONG else ""
            out.append(Stale(item.key, title_of(item), why, said))
    return tuple(out)


def _why(word: Word | None, now: str) -> str:
    if word is None:
        return NOT_WALKED
    if word.print != now:
        return CHANGED
    return "" if word.good else WRONG


def title_of(item: Step | Line) -> str:
    """What a step or line is called on the page."""
    if isinstance(item, Step):
        return item.title
    words = phrase("channel %(number)s %(name)s", number=item.channel.number, name=item.channel.name)
    return side(words, item.side)


def rig_text(prints: Mapping[str, str]) -> str:
    """Fingerprints as they stand in a record: `main-left:3f2a9c main-right:91bc04`."""
    return " ".join(f"{key}:{value}" for key, value in prints.items())


def parse_rig(text: str) -> dict[str, str]:
    """The reverse of `rig_text`; a lone fingerprint of the whole rig gives an empty answer."""
    return dict(part.rsplit(":", 1) for part in text.split() if ":" in part)


def record_text(
    date: str, by: str, prints: Mapping[str, str], heard: Mapping[str, str], note: str = "", time: str = ""
) -> str:
    """A record as a file to lie beside the plan, in its language. `date` as `2027-02-06`, `time` as `18:20`."""
    lines = ["plan: 1", "walk-tests:", f"  - date: {date}"]
    if time:
        lines.append(f"    time: {time}")
    if by:
        lines.append(f"    by: {_quoted(by)}")
    lines.append(f"    rig: {_quoted(rig_text({k: prints[k] for k in heard if k in prints}))}")
    lines.append("    heard:")
    lines += [f"      {key}: {value if value == AS_EXPECTED else _quoted(value)}" for key, value in heard.items()]
    if note:
        lines.append(f"    text: {_quoted(note)}")
    return "\n".join(lines) + "\n"


def _quoted(text: Any) -> str:
    """A text in double quotes, as YAML and JSON both read it."""
    return json.dumps(str(text), ensure_ascii=False)
