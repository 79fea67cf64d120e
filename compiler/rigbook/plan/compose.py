"""Several files to one draft: what a show builds on, what it adds, and what it changes by saying so."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Sources, Span
from rigbook.findings.suggest import meant, near, only_figures_differ
from rigbook.language.record import Entry, Record
from rigbook.language.spoken import NAMES
from rigbook.language.values.names import place_of, split_names
from rigbook.plan.complete import lacking
from rigbook.plan.draft import ADDED, FREE, LISTS, NAMED, WHOLE, WORDS, Draft, Item, WireItem
from rigbook.plan.merge import difference, merge, typed
from rigbook.plan.model import Change
from rigbook.plan.removing import remove
from rigbook.records import replace
from rigbook.text.phrase import phrase


def compose(chain: list[tuple[str, Record]], sources: Sources) -> tuple[Draft, list[Finding]]:
    """Merge the files of a chain, the base first."""
    findings: list[Finding] = []
    top = chain[0][1]
    draft = Draft(top, tuple(name for name, _ in chain))
    for name, record in reversed(chain):
        changes = [e for e in record.get("changes", ()) if isinstance(e.value, Record)]
        house = len(draft.wires)
        # what a show takes out is the house's: it goes before anything of the show's own is there
        for entry in changes:
            for text in entry.value.get("remove", ()):
                span = place_of(text, entry.value.at("remove"))
                remove(draft, str(text), span, entry.name, findings)
        _add_file(draft, name, record, findings)
        for entry in changes:
            _apply_change(draft, entry, name, house, sources, findings)
    return draft, findings


def entries(section: str, value: Any) -> Iterator[Entry]:
    """The entries of a named section; a unit line with several names gives one each."""
    for entry in value:
        if section == "units" and "," in entry.name:
            for name, start in split_names(entry.name):
                yield Entry(name, entry.span.within(start, len(name)), entry.value)
        else:
            yield entry


def _add_file(draft: Draft, origin: str, record: Record, findings: list[Finding]) -> None:
    for key in ("show", "venue", "library", "language"):
        if record.get(key):
            draft.titles[key] = str(record.get(key))
    for key, value in record.values.items():
        base = key.partition(" on ")[0]
        if base in NAMED:
            _add_named(draft, key, value, origin, findings)
        elif key == "wiring":
            draft.wires += _wires(value, origin, len(draft.wires))
        elif key in WHOLE:
            _add_whole(draft, key, value, findings)
        elif key in LISTS:
            draft.lists.setdefault(key, []).extend((v, origin) for v in value)


def _add_named(draft: Draft, key: str, value: Any, origin: str, findings: list[Finding]) -> None:
    section = draft.sections.setdefault(key, {})
    for entry in entries(key.partition(" on ")[0], value):
        old = section.get(entry.name)
        if old is not None:
            findings.append(_twice(key, entry, old, origin))
        said = entry.value
        if old is not None and old.origin != origin and isinstance(old.value, Record) and isinstance(said, Record):
            # it is read as under `changes:`, where it belongs: what it does not say again stays as in the house
            said = merge(old.value, said)[0]
        section[entry.name] = Item(entry.name, entry.span, said, origin)


def _twice(key: str, entry: Entry, old: Item, origin: str) -> Finding:
    word = WORDS[key.partition(" on ")[0]]
    if old.origin == origin:
        return Finding(
            "duplicate-key",
            Severity.ERROR,
            phrase("%(sort)s `%(name)s` is named twice", sort=word, name=entry.name),
            Label(entry.span, phrase("here again")),
            (Label(old.span, phrase("first named here")),),
            remedy=phrase("give one of them another name, or take it out"),
        )
    return Finding(
        "change-unsaid",
        Severity.ERROR,
        phrase(
            "%(sort)s `%(name)s` of `%(origin)s` is written over without saying so",
            sort=word,
            name=entry.name,
            origin=old.origin,
        ),
        Label(entry.span, phrase("written over here")),
        (Label(old.span, phrase("the house says this")),),
        effect=phrase("the next person cannot see what to put back after the show"),
        remedy=phrase(
            "move it under `changes:` with the reason as heading: `%(line)s`",
            line=f"changes: {{WHY: {{{key}: {{{entry.name}: …}}}}}}",
        ),
    )


def _wires(value: Any, origin: str, house: int, reason: str = "") -> list[WireItem]:
    lines = [(entry, wire) for entry in value for wire in (entry.value or ())]
    return [WireItem(entry.name, entry.span, wire, origin, house, reason) for entry, wire in lines]


def _add_whole(draft: Draft, key: str, value: Any, findings: list[Finding]) -> None:
    old = draft.whole.get(key)
    if not isinstance(old, Record) or not isinstance(value, Record):
        draft.whole[key] = value
        return
    merged, clashes = merge(old, value)
    for name in clashes if key not in FREE else ():
        findings.append(
            Finding(
                "change-unsaid",
                Severity.ERROR,
                phrase(
                    "`%(name)s` of the %(shape)s is written over without saying so",
                    name=name,
                    shape=NAMES.get(value.shape, value.shape),
                ),
                Label(value.at(name), phrase("written over here")),
                (Label(old.at(name), phrase("the house says this")),),
                effect=phrase("the next person cannot see what to put back after the show"),
                remedy=phrase("move it under `changes:` with the reason as its heading"),
            )
        )
    draft.whole[key] = merged


def _apply_change(
    draft: Draft, entry: Entry, origin: str, house: int, sources: Sources, findings: list[Finding]
) -> None:
    reason, record = entry.name, entry.value
    for key, value in record.values.items():
        base = key.partition(" on ")[0]
        if base in NAMED:
            for item in entries(base, value):
                _change_item(draft, key, item, reason, origin, sources, findings)
                if item.name in draft.sections[key]:
                    findings.extend(lacking(key, draft.sections[key][item.name].value))
        elif key == "wiring":
            draft.wires += _wires(value, origin, house, reason)
        elif key in WHOLE:
            _change_whole(draft, key, value, reason, sources)
            findings.extend(lacking(key, draft.whole[key]))


def _change_item(
    draft: Draft, key: str, entry: Entry, reason: str, origin: str, sources: Sources, findings: list[Finding]
) -> None:
    section = draft.sections.setdefault(key, {})
    word = WORDS[key.partition(" on ")[0]]
    old = section.get(entry.name)
    if old is None:
        close = near(entry.name, section)
        if close and entry.name not in draft.removed_units and key in ("units", "buses", "outputs", "racks"):
            fix = phrase("write `%(name)s`, or name it outside `changes:` if it is new", name=close[0])
            findings.append(_unknown(phrase("%(sort)s `%(name)s`", sort=word, name=entry.name), entry.span, fix))
            close = (meant(entry.name, section),)
            if close[0] and not only_figures_differ(entry.name, close[0]):
                entry, old = replace(entry, name=close[0]), section[close[0]]
    if old is None:
        section[entry.name] = Item(entry.name, entry.span, entry.value, origin)
        draft.changes.append(
            Change(reason, phrase("%(sort)s %(name)s", sort=word, name=entry.name), "", ADDED, entry.span)
        )
        return
    if isinstance(old.value, Record) and isinstance(entry.value, Record):
        before, after = difference(old.value, entry.value, sources)
        value: Any = merge(old.value, entry.value)[0]
    else:
        before, after, value = typed(old.value, sources), typed(entry.value, sources), entry.value
    section[entry.name] = replace(old, value=value)
    draft.changes.append(
        Change(reason, phrase("%(sort)s %(name)s", sort=word, name=entry.name), before, after, entry.span)
    )


def _change_whole(draft: Draft, key: str, value: Any, reason: str, sources: Sources) -> None:
    old = draft.whole.get(key)
    if isinstance(old, Record) and isinstance(value, Record):
        before, after = difference(old, value, sources)
        draft.whole[key] = merge(old, value)[0]
    else:
        before, after = "", ADDED
        draft.whole[key] = value
    draft.changes.append(Change(reason, key, before, after, getattr(value, "span", draft.top.span)))


def _unknown(what: str, span: Span, remedy: str) -> Finding:
    return Finding(
        "unknown-name",
        Severity.ERROR,
        phrase("there is no %(what)s to change in what this plan builds on", what=what),
        Label(span),
        remedy=remedy,
    )
