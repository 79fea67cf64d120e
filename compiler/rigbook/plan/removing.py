"""What a change takes out of the house rig, with what hangs on it alone."""

from __future__ import annotations

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.findings.suggest import near
from rigbook.language.record import Record
from rigbook.language.values.sends import Leg, Send, leg
from rigbook.plan.draft import IN_HOUSE, TAKEN_OUT, WORDS, Draft, Item
from rigbook.plan.model import Change
from rigbook.records import replace
from rigbook.text.phrase import phrase

TAKEN = ("units", "inputs", "buses", "outputs", "racks")
"""Sections that something can be taken out of."""


def remove(draft: Draft, text: str, span: Span, reason: str, findings: list[Finding]) -> None:
    """Take one thing out; a bus goes with its outputs and with what is sent to it, a unit with its cables."""
    if "->" in text:
        draft.removals.append((len(draft.wires), " ".join(text.split()), span, reason))
        return
    word, _, rest = text.partition(" ")
    for key, section in draft.sections.items():
        base = key.partition(" on ")[0]
        name = rest if base == "inputs" and word == "channel" else rest if WORDS.get(base) == word and rest else text
        if base in TAKEN and name in section and (base != "inputs" or rest):
            _take(draft, key, name, span, reason)
            if base == "units":
                draft.removed_units[name] = len(draft.wires)
            elif base == "buses":
                _without_bus(draft, key.removeprefix("buses"), name, span, reason)
            return
    if text.removeprefix("output ") in draft.removed_besides:
        return
    known = [n for k in ("units", "buses", "outputs", "racks") for n in draft.sections.get(k, ())]
    close = near(text, known)
    fix = (
        phrase("write `%(line)s`", line=close[0])
        if close
        else phrase("name a unit, a bus, an output, `channel 7`, or a cable `a -> b`")
    )
    message = phrase("there is no %(what)s to change in what this plan builds on", what=f"`{text}`")
    findings.append(Finding("unknown-name", Severity.ERROR, message, Label(span), remedy=fix))


def _take(draft: Draft, key: str, name: str, span: Span, reason: str) -> None:
    del draft.sections[key][name]
    what = phrase("%(sort)s %(name)s", sort=WORDS[key.partition(" on ")[0]], name=name)
    draft.changes.append(Change(reason, what, IN_HOUSE, TAKEN_OUT, span))


def _without_bus(draft: Draft, desk: str, bus: str, span: Span, reason: str) -> None:
    """What leads nowhere without the bus: its outputs, and the sends to it of channels and buses of its desk."""
    outputs = draft.sections.get(f"outputs{desk}", {})
    for name, item in list(outputs.items()):
        typed = leg(name, item.span)
        if isinstance(typed, Leg) and typed.bus == bus:
            _take(draft, f"outputs{desk}", name, span, reason)
            draft.removed_besides.add(name)
    for key in (f"inputs{desk}", f"buses{desk}"):
        section = draft.sections.get(key, {})
        for name, item in section.items():
            section[name] = _not_sent(item, bus)


def _not_sent(item: Item, bus: str) -> Item:
    record = item.value
    if not isinstance(record, Record):
        return item
    sends = record.get("to", ())
    kept = tuple(s for s in sends if not (isinstance(s, Send) and s.bus == bus))
    return item if kept == sends else replace(item, value=replace(record, values={**record.values, "to": kept}))
