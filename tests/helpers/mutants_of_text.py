"""Single faults of the text of a plan: of YAML, of keys and values, of files, and of what its notes say to whom.

Most are faults of the show's own file; each is made wherever the show has a line of that sort.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from itertools import combinations

from helpers.mutants import Edit, Mutant, Show, _made, into
from rigbook.findings.place import Span


def own_file(show: Show) -> str:
    """The file of the show itself; what it builds on comes behind it."""
    return show.plan.files[0]


def at_top(show: Show, line: str, file: str = "") -> Edit:
    """A line below `plan: 1`."""
    file = file or own_file(show)
    assert show.sources[file].lines[0].startswith("plan:")
    return Edit(Span(file, 1, 0, 1, 0), line + "\n")


def head(show: Show, pattern: str, text: str, file: str = "") -> Edit | None:
    """The first match of a pattern in a file, replaced; `^` is the beginning of a line."""
    file = file or own_file(show)
    for number, line in enumerate(show.sources[file].lines):
        found = re.search(pattern, line)
        if found:
            return Edit(Span(file, number, found.start(), number, found.end()), found.expand(text))
    return None


def below(show: Show, pattern: str, line: str, file: str = "") -> Edit | None:
    """A line behind the first that a pattern matches."""
    found = head(show, pattern, "", file)
    if found is None:
        return None
    number = found.span.line + 1
    return Edit(Span(found.span.file, number, 0, number, 0), line + "\n")


def yaml_broken(show: Show) -> Iterator[Mutant]:
    """A line of the head that YAML reads otherwise than it is meant, or not at all."""
    faults = {
        "yaml-syntax": (r"^date:", "date"),
        "comment-cut": (r"^(show: .*)$", r"\1 #2"),
        "anchor-used": (r"^date: ", "date: &day "),
        "tag-used": (r"^date: ", "date: !day "),
        "tab-indent": (r"^ +(?=Sound:|Band:|Stage:|Front of house:)", "\t"),
        "wrong-encoding": (r"^show: (\w)", "show: \\1\ufeff"),
        "odd-key": (r"^doors:", "[doors]:"),
    }
    for check, (pattern, text) in faults.items():
        yield from _made(check, own_file(show), [head(show, pattern, text)], check)
    last = len(show.sources[own_file(show)].lines) - 1
    second = Edit(Span(own_file(show), last, 0, last, 0), "---\nrevision: 9\n")
    if not show.sources[own_file(show)].lines[last]:
        yield from _made("second document", own_file(show), [second], "several-documents")
    deep = at_top(show, f"exceptions: {'[' * 13}deep{']' * 13}")
    yield from _made("too deep", own_file(show), [deep], "too-deep")
    large = at_top(show, "# " + "x" * 2_000_001)
    yield from _made("too large", own_file(show), [large], "too-large")


def key_broken(show: Show) -> Iterator[Mutant]:
    """A key twice, a key that there is not, a key that is missing."""
    twice = head(show, r"^(date: .*)$", "\\1\ndate: 2027-12-31")
    yield from _made("key twice", own_file(show), [twice], "duplicate-key", "date")
    for unit in list(show.plan.units.values())[::5]:
        # a title that several share is told as well
        alone = re.match(re.escape(unit.name) + r"\s*:", show.line(unit.span).lstrip())
        edit = into(show, unit.span, "titel: x") if alone else None
        yield from _made("key unheard of", unit.name, [edit], "unknown-key", "titel")
    # a unit that nothing else speaks of, else what it is cabled to is unknown as well
    lone = below(show, r"^units:", "  lone: {title: Lone}")
    yield from _made("kind left out", own_file(show), [lone], "missing-key")


def value_broken(show: Show) -> Iterator[Mutant]:
    """A value of another sort than its key takes."""
    yield from _made("date by dots", own_file(show), [head(show, r"^date: .*", "date: 6.2.2027")], "wrong-value")
    listed = head(show, r"^doors: .*", "doors: [18:00, 19:00]")
    yield from _made("list for a value", own_file(show), [listed], "wrong-shape")
    yield from _made("length in metres", own_file(show), [head(show, r"^length: .*", "length: 3 m")], "wrong-unit")
    yield from _made("newer language", own_file(show), [head(show, r"^plan: 1", "plan: 9")], "language-version")
    for rack in show.plan.racks.values():
        kind = rack.record.get("kind")
        if kind is not None:
            span = rack.record.at("kind")
            yield from _made("stand for a rack", rack.name, [Edit(span, "boom-stand")], "wrong-kind", "boom-stand")
    for channel in show.plan.channels[::6]:
        if channel.source_key == "mic" and not channel.record.get("phantom"):
            edit = Edit(channel.record.at("mic"), "boom-stand")
            yield from _made("stand for a microphone", channel.name, [edit], "wrong-kind", "boom-stand")


def processing_unread(show: Show) -> Iterator[Mutant]:
    """A filter, limiter or delay that could not be meant or read is told, and is not missing as well."""
    records = [b.record for b in show.plan.buses.values()]
    records += [o.record for o in show.plan.outputs]
    far = {"high-cut": "900 kHz", "low-cut": "900 kHz", "delay": "340 s"}
    for record in records:
        for key in ("high-cut", "low-cut", "limiter", "delay"):
            if record.get(key) is not None and record.at(key).line == record.at(key).end_line:
                at, what = record.at(key), f"{key} {show.text(record.at(key))}"
                checks = "wrong-unit" if key in ("limiter", "delay") else "wrong-value"
                yield from _made("value unreadable", what, [Edit(at, "xyloid")], checks, "xyloid")
                if key in far:
                    yield from _made("value too far", what, [Edit(at, far[key])], "out-of-range", far[key])


def desk_unsaid(show: Show) -> Iterator[Mutant]:
    """One of two desks is meant, and the heading does not say which."""
    for section in ("inputs", "buses", "outputs"):
        edit = head(show, rf"^{section} on \w+:", f"{section}:")
        yield from _made("desk unsaid", section, [edit], "desk-unsaid", count=-1)


def side_unsaid(show: Show) -> Iterator[Mutant]:
    """An output of a stereo bus that names no side, where the other side has none either."""
    for output in show.plan.outputs:
        bus = show.plan.buses[output.desk, output.bus]
        if bus.stereo and output.leg == "left" and show.text(output.span) == output.name:
            right = next(o for o in show.plan.outputs if (o.desk, o.bus) == (bus.desk, bus.name) and o.leg == "right")
            if right.span.line == output.span.line + 1 and right.span.file == output.span.file:
                edit = Edit(output.span, output.bus)
                yield from _made("side unsaid", output.name, [edit], "leg-unsaid orphan-bus unfed-output", count=-1)


def file_wrong(show: Show) -> Iterator[Mutant]:
    """A file that is not there, lies outside, or builds on what builds on it; one of the house said again."""
    own, others = own_file(show), show.plan.files[1:]
    for path, check in (("nowhere.yaml", "missing-file"), ("../../../nowhere.yaml", "path-outside")):
        edit = head(show, r"^builds-on: .*", f"builds-on: {path}") if others else at_top(show, f"builds-on: {path}")
        yield from _made(check, own, [edit], check, path)
    name = own.rpartition("/")[2]
    ring = at_top(show, f"builds-on: {name}", others[0] if others else own)
    yield from _made("builds on itself", own, [ring], "builds-on-ring")
    for item, file in ((u, u.origin) for u in show.plan.units.values()):
        lines = show.sources[own].lines
        if file != own and not any(line.startswith("units:") for line in lines):
            kind = item.kind.name if item.kind else ""
            again = at_top(show, f"units: {{{item.name}: {{kind: {kind}, text: Said again.}}}}")
            yield from _made("house said again", item.name, [again], "change-unsaid", item.name)
            return


def kind_described(show: Show) -> Iterator[Mutant]:
    """A kind of one's own with a name from the library."""
    kind = "kinds: {jack: {is: cable, title: our own jack lead, ends: [jack-unbalanced, jack-unbalanced]}}"
    yield from _made("kind taken", own_file(show), [at_top(show, kind)], "kind-taken", "jack")


def port_unsaid(show: Show) -> Iterator[Mutant]:
    """A cable to a unit with several sockets that fit."""
    alike = [c for c in show.single() if "/in " in show.text(c.end_span) and c.length]
    for one, two in combinations(alike, 2):
        # one alone would be read as the socket that is left
        if one.end.unit == two.end.unit and one.origin == two.origin:
            edits: list[Edit | None] = [Edit(c.end_span, c.end.unit) for c in (one, two)]
            yield from _made("ports unsaid", one.end.unit, edits, "port-unsaid", one.end.unit, count=-1)


def note_wrong(show: Show) -> Iterator[Mutant]:
    """A note that links to nothing, shows nothing, runs a script, or says to everyone what is for the crew."""
    notes = {
        "broken-link": "See [[xyloid]].",
        "missing-picture": "![The plan](nowhere.png)",
        "note-link-refused": "[press](javascript:alert(1))",
    }
    for check, text in notes.items():
        line = below(show, r"^notes:", f'  Extra: {{text: "{text}"}}')
        yield from _made(check, own_file(show), [line], check)
    for entry in show.plan.sections["contacts"]:
        phone, to = entry.value.get("phone"), str(entry.value.get("for", "crew"))
        if phone:
            line = below(show, r"^notes:", f'  Extra: {{text: "Ring {phone} first.", for: public}}')
            if to != "public":
                yield from _made("private number", entry.name, [line], "private-in-public", entry.name, str(phone))


def acceptance_wrong(show: Show) -> Iterator[Mutant]:
    """An exception for what does not happen, and one without a reason."""
    unit = next(iter(show.plan.units))
    idle = at_top(show, f"exceptions: [{{check: unused-gear, at: {unit}, reason: The drummer brings the cable.}}]")
    yield from _made("idle exception", unit, [idle], "unused-exception", unit)
    lone = below(show, r"^units:", "  lone: tie-line-16")
    bare = at_top(show, "exceptions: [{check: unused-gear, at: lone}]")
    yield from _made("exception unreasoned", own_file(show), [lone, bare], "exception-without-reason", "lone")


def sheet_wrong(show: Show) -> Iterator[Mutant]:
    """Labels wider than their sheet; a walk test of another rig."""
    labels = at_top(show, "labels: {size: 70 x 37 mm, columns: 4}")
    yield from _made("labels too wide", own_file(show), [labels], "labels-off-sheet")
    bus = next(b.name for b in show.plan.buses.values() if b.role == "mains")
    walked = f'date: 2027-02-06, by: house technician, rig: "{bus}:000000", heard: {{{bus}: as expected}}'
    record = f"walk-tests: [{{{walked}}}]"
    if len({c.desk for c in show.plan.channels}) == 1:
        yield from _made("another rig walked", bus, [at_top(show, record)], "stale-walk-test")


OPERATORS: tuple[Callable[[Show], Iterator[Mutant]], ...] = (
    yaml_broken,
    key_broken,
    value_broken,
    processing_unread,
    desk_unsaid,
    side_unsaid,
    file_wrong,
    kind_described,
    port_unsaid,
    note_wrong,
    acceptance_wrong,
    sheet_wrong,
)
