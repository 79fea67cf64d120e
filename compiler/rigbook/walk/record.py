"""Records of walk tests: the fingerprint of what each step exercises, the record as plan text, steps that are stale."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from rigbook.graph.rig import Edge, Rig
from rigbook.graph.words import side
from rigbook.language.grammar import Record
from rigbook.text.phrase import phrase
from rigbook.walk.line_check import Line, line_check
from rigbook.walk.step import Step
from rigbook.walk.steps import steps
from rigbook.walk.wires import Wires

AS_EXPECTED: Final = "as expected"
DIGITS: Final = 6
"""Hexadecimal digits of a step's fingerprint: two versions of one step are alike by chance once in 16 million."""


@dataclass(frozen=True)
class Stale:
    """A step that has to be walked again."""

    key: str
    title: str
    why: str
    """`changed since`, `not walked`, or what was heard instead."""


def fingerprints(rig: Rig) -> dict[str, str]:
    """The fingerprint of each step and line: of its connections with what they do, and of what must sound.

    Names, kinds of cable and equipment, settings and pick-offs count; lengths, labels, notes and places do not.
    """
    wires = Wires.of(rig)
    out = {s.key: _print(rig, wires, s.covers, (e.end + " " + e.how for e in s.expect)) for s in steps(rig)}
    return out | {x.key: _print(rig, wires, x.covers, _needs(x)) for x in line_check(rig)}


def _needs(line: Line) -> Iterable[str]:
    kind = line.channel.source_kind
    return (line.channel.name, kind.name if kind else "", f"phantom {line.phantom}", *line.heard, *line.pre)


def _print(rig: Rig, wires: Wires, covers: Iterable[Edge], more: Iterable[str]) -> str:
    lines = sorted(repr((edge[:2], wires.wires[wires.number[edge]][2:], _made_of(rig, edge))) for edge in covers)
    return _hash([*lines, *more])


def _made_of(rig: Rig, edge: Edge) -> tuple[str, ...]:
    """Kinds of the cable and of the equipment at both ends."""
    cable = rig.cable(edge)
    units = (rig.unit(node) for node in edge[:2])
    return (cable.kind_name if cable else "", *(u.kind.name if u and u.kind else "" for u in units))


def _hash(lines: Iterable[str]) -> str:
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()[:DIGITS]


def rig_text(prints: Mapping[str, str]) -> str:
    """Fingerprints as they stand in a record: `main-left:3f2a9c main-right:91bc04`."""
    return " ".join(f"{key}:{value}" for key, value in prints.items())


def rig_print(prints: Mapping[str, str]) -> str:
    """One fingerprint for the whole rig, under which a device files what was ticked."""
    return _hash([rig_text(prints)])


def parse_rig(text: str) -> dict[str, str]:
    """The reverse of `rig_text`; a lone fingerprint of the whole rig gives an empty answer."""
    return dict(part.rsplit(":", 1) for part in text.split() if ":" in part)


def last_record(rig: Rig) -> Record | None:
    """The newest record of the plan; of equal dates the later one."""
    records = [r for r in rig.plan.sections.get("walk-tests", ()) if isinstance(r, Record) and r.get("date")]
    return max(enumerate(records), key=lambda item: (item[1].get("date"), item[0]), default=(0, None))[1]


def heard_of(record: Record) -> dict[str, str]:
    """What a record says of each step."""
    return {e.name: str(e.value) for e in record.get("heard", ()) if e.value is not None}


def stale_steps(rig: Rig) -> tuple[Stale, ...]:
    """Steps to walk again: changed since the last record, left out of it, or not as expected in it.

    Empty where the plan holds no record. Lines of the line check count once the record speaks of any.
    """
    record = last_record(rig)
    if record is None:
        return ()
    now, then, heard = fingerprints(rig), parse_rig(str(record.get("rig") or "")), heard_of(record)
    if not then and record.get("rig") == rig_print(now):
        then = now
    known = any("line-" in key for key in heard)
    every: list[Step | Line] = [*steps(rig), *(line_check(rig) if known else ())]
    out = []
    for item in every:
        why = _why(item.key, now, then, heard)
        if why:
            out.append(Stale(item.key, title_of(item), why))
    return tuple(out)


def title_of(item: Step | Line) -> str:
    """What a step or line is called on the page."""
    if isinstance(item, Step):
        return item.title
    words = phrase("channel %(number)s %(name)s", number=item.channel.number, name=item.channel.name)
    return side(words, item.side)


def _why(key: str, now: Mapping[str, str], then: Mapping[str, str], heard: Mapping[str, str]) -> str:
    if key not in heard:
        return phrase("not walked")
    if then.get(key) != now[key]:
        return phrase("changed since")
    return "" if heard[key] == AS_EXPECTED else heard[key]


def record_text(date: str, by: str, prints: Mapping[str, str], heard: Mapping[str, str], note: str = "") -> str:
    """A record in the language of the plan, ready to be put into it. `date` as `2027-02-06`."""
    lines = ["walk-tests:", f"  - date: {date}"]
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
