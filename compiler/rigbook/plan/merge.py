"""Groups of keys over one another, and what the difference was, as typed."""

from __future__ import annotations

from typing import Any

from rigbook.findings.place import Sources, Span
from rigbook.language.record import Entry, Record


def merge(old: Record, new: Record) -> tuple[Record, list[str]]:
    """The keys of `new` over those of `old`; groups of names are joined. Gives the names that both say."""
    values, clashes = dict(old.values), []
    for key, value in new.values.items():
        before = old.get(key)
        if _is_entries(value) and _is_entries(before):
            both = {e.name: e for e in before}
            clashes += [e.name for e in value if e.name in both]
            values[key] = tuple({**both, **{e.name: _over(both.get(e.name), e) for e in value}}.values())
        else:
            if before is not None:
                clashes.append(key)
            values[key] = value
    return (
        Record(old.shape, old.span, values, {**old.spans, **new.spans}, (old.broken | new.broken) - set(new.values)),
        clashes,
    )


def _over(before: Entry | None, entry: Entry) -> Entry:
    """An entry of a group of names over the one of that name that stood there."""
    if before is None or not isinstance(before.value, Record) or not isinstance(entry.value, Record):
        return entry
    return Entry(entry.name, entry.span, merge(before.value, entry.value)[0])


def _is_entries(value: Any) -> bool:
    return isinstance(value, tuple) and bool(value) and all(isinstance(v, Entry) for v in value)


def difference(old: Record, new: Record, sources: Sources) -> tuple[str, str]:
    """What the changed keys said before and say now, as typed."""
    before = [f"{k}: {cut(old.spans[k], sources)}" for k in new.values if k in old.spans]
    after = [f"{k}: {cut(new.spans[k], sources)}" for k in new.values if k in new.spans]
    return ", ".join(before), ", ".join(after)


def typed(value: Any, sources: Sources) -> str:
    """A value that is no group of keys, as typed."""
    return str(getattr(value, "text", value))


def cut(span: Span, sources: Sources) -> str:
    """The text of a span on one line; the first line of a longer one."""
    source = sources.get(span.file)
    if source is None or span.line >= len(source.lines):
        return ""
    line = source.lines[span.line]
    return line[span.column : span.end_column if span.end_line == span.line else None].strip()
