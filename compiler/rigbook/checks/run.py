"""Run every check; keep one message for one fault; set apart what the plan accepts.

Two kinds of consequence are dropped. A check may name its betters (`YIELDS_TO`): a finding whose objects are all
spoken for by theirs goes. And a check that reports that something is missing (`ABSENCE = True`) is not believed
about things that hang on a line which could not be read: what is missing probably stands there.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from rigbook.checks.catalogue import modules, names
from rigbook.checks.doubt import ELECTRICAL, MECHANICAL, MISLED, believed
from rigbook.checks.publishing._notes import note_findings
from rigbook.checks.renamed import renamed
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Sources, Span
from rigbook.findings.suggest import near
from rigbook.graph.gaps import names_of
from rigbook.graph.rig import Rig
from rigbook.language.values.names import NAME
from rigbook.plan.model import Acceptance
from rigbook.records import replace
from rigbook.text.phrase import phrase

EARLIER = ("unknown-name", "unknown-port", "over-capacity", "port-unsaid", "wrong-direction", "wrong-kind")
"""Findings of the resolver. A check about the same objects yields to them without saying so."""

PATCHED = ("cable-twice", "run-beside", "plugged-astray")
"""Findings of a line that is patched amiss, the first ones before the others. Every other check yields to them too."""

HURTS = ("exposure-over-limit", "lift-by-two")
"""Findings of what hurts people. They yield to another finding, not to one that the plan accepts."""

SIGNAL = ("units", "inputs", "buses", "outputs", "wiring", "kinds", "changes", "builds-on")
"""Sections without which signals seem to be missing."""

USE = frozenset({"kind", "spare", "mode", "routes"})
"""Keys of a unit without which it is not known whether and how it is used."""

OF_THE_HOUSE = (" to change in what this plan builds on", " to take out")
"""How messages about something of the house end that a change does not find there."""

UNREAD = (
    "yaml-syntax",
    "tab-indent",
    "wrong-value",
    "wrong-shape",
    "wrong-unit",
    "out-of-range",
    "unknown-key",
    "missing-file",
    "path-outside",
    "unknown-port",
    "port-unsaid",
    "duplicate-key",
)
"""Findings that leave a hole in the plan: a line or value that could not be read."""


def run(
    rig: Rig, earlier: Iterable[Finding], sources: Sources, root: Path
) -> tuple[list[Finding], list[tuple[Finding, str]]]:
    """Every finding of a rig together with those of earlier stages, and the accepted ones with their reasons.

    `root` is the repository, in which the pictures of notes are looked for.
    """
    findings = [*renamed(_once(list(earlier), sources), rig, sources), *note_findings(rig, sources, root)]
    hole = _near_holes(rig, findings, sources)
    betters: dict[str, tuple[str, ...]] = {}
    for module in modules():
        slug = module.__name__.rpartition(".")[2].replace("_", "-")
        own = getattr(module, "YIELDS_TO", ())
        sure = names()[slug] == "routing" or slug in ELECTRICAL + MECHANICAL
        patched = PATCHED[: PATCHED.index(slug)] if slug in PATCHED else PATCHED
        betters[slug] = (*EARLIER, *patched, *own, *(() if sure or slug in PATCHED else MISLED))
        found = module.find(rig)
        if hole and getattr(module, "ABSENCE", False):
            found = (f for f in found if not f.objects & hole and "*" not in hole)
        findings += found
    kept, accepted = _without_accepted(
        _without_consequences(findings, betters, rig.plan.exceptions), rig.plan.exceptions, findings
    )
    return believed(rig, kept), accepted


def _once(findings: list[Finding], sources: Sources) -> list[Finding]:
    """Without findings that another one of reading explains.

    The shape of a value that lies too deep to be read: its depth has been told. A name that nothing is near to, where
    a file could not be read: it probably stands there, as does the kind of a unit that is named without one.
    """
    deep = [f.primary.span for f in findings if f.check == "too-deep"]
    lost = any(f.check in ("missing-file", "path-outside", "too-large") or _loses_the_house(f) for f in findings)
    sections = any(_loses_a_section(f) or _ends_there(f, sources) for f in findings)
    keys = {f.message.rpartition(" no key ")[2] for f in findings if f.check == "unknown-key"}
    unknown = {f.primary.span for f in findings if f.check == "unknown-name"}
    changed = {f.message.removesuffix(OF_THE_HOUSE[0]) for f in findings if f.message.endswith(OF_THE_HOUSE)}
    return [
        f
        for f in findings
        if not (f.check == "wrong-shape" and any(_holds(f.primary.span, d) for d in deep))
        and not (f.check == "unknown-name" and (sections or lost) and not f.remedy.startswith("write "))
        and not ((sections or lost) and f.check == "unknown-name" and " is named under `" in f.message)
        and not (f.check == "wrong-kind" and lost and not f.remedy.startswith("write "))
        and not (f.check == "unknown-name" and f.message.rpartition(" ")[2] in keys)
        and not (f.check == "unknown-name" and f.message in changed)
        and not ("cannot be a name" in f.message and f.primary.span in unknown)
        and not (f.check == "unknown-name" and (sections or lost) and f.message.endswith(OF_THE_HOUSE))
        and not (lost and f.check == "missing-key" and f.message == "this unit has no `kind`")
    ]


def _holds(outer: Span, inner: Span) -> bool:
    begins = (outer.file, outer.line, outer.column) <= (inner.file, inner.line, inner.column)
    return outer.file == inner.file and begins and inner[3:] <= outer[3:]


def _near_holes(rig: Rig, findings: list[Finding], sources: Sources) -> set[str]:
    """Names of everything up and down the signal from things named on lines that could not be read; `*` for all."""
    names: set[str] = set()
    for f in findings:
        if f.check in ("missing-file", "path-outside") or _loses_a_section(f) or _ends_there(f, sources):
            return {"*"}
        if f.check in UNREAD:
            names |= _names_at(f, sources) | (f.objects if f.check == "wrong-value" else frozenset())
        if f.check == "unknown-name" and "no bus" in f.message:
            places = (f, *(replace(f, primary=label) for label in f.secondary))
            names |= set().union(*(_names_at(place, sources) for place in places)) | _unused_buses(rig)
        if f.check == "unknown-name" and f.objects & rig.plan.unresolved:
            for label in (f.primary, *f.secondary):
                names |= _names_at(replace(f, primary=label), sources)
            names |= _unused_units(rig)
            lost = rig.plan.unresolved & f.objects
            names |= {s.id for c in rig.plan.cables if {c.start.unit, c.end.unit} & lost for s in (c.start, c.end)}
    # what an unknown name was probably meant to feed has been told by it
    names |= {n for g in rig.gaps if g.start and g.start.why == "unknown" for n in names_of(g.wants)}
    names |= {u.name for u in rig.plan.units.values() if u.record.broken & USE}
    if not names:
        return names
    nodes = {n for n, d in rig.net.nodes.items() if n in names or (d["unit"] in names and "/" not in n)}
    units = {n for n in names if n in rig.plan.units}
    nodes |= {
        n
        for n, d in rig.net.nodes.items()
        if d["unit"] in units and rig.plan.units[d["unit"]].family not in ("desk", "stage box")
    }
    nodes |= {n for n, d in rig.net.nodes.items() if d["kind"] == "bus" and d["bus"].name in names}
    reach = rig.net.reached(nodes, rig.net.succ) | rig.net.reached(nodes, rig.net.pred)
    data = rig.net.nodes
    return names | reach | {data[n]["bus"].name for n in reach if data[n]["kind"] == "bus"}


def _loses_a_section(f: Finding) -> bool:
    """An unknown key at the head of a line, unless it is probably one that carries no signal (`dors` for `doors`);
    or a list in the place of a section.
    """
    if f.check == "wrong-shape" and "where lines of `" in f.message and not f.remedy.startswith("leave the dashes"):
        return True
    if f.check != "unknown-key" or f.primary.span.column:
        return False
    meant = re.fullmatch(r"write `(\S+).*`", f.remedy)
    return meant is None or meant.group(1) in SIGNAL


def _loses_the_house(f: Finding) -> bool:
    """What the plan builds on is not there, as its key could not be read."""
    return f.check == "unknown-key" and not f.primary.span.column and f.remedy.startswith("write `builds-on`")


def _ends_there(f: Finding, sources: Sources) -> bool:
    """A line that cannot be read and is the last: the file is half written, and the rest is still to come."""
    source = sources.get(f.primary.span.file)
    if f.check != "yaml-syntax" or source is None:
        return False
    return not any(line.strip() for line in source.lines[f.primary.span.line + 1 :])


def _unused_buses(rig: Rig) -> set[str]:
    """Bus legs that nothing is sent to or that leave nowhere: one of them may be what a wrong name meant."""
    net = rig.net
    idle = {n for n in rig.legs if not net.pred[n] or not net.succ[n]}
    return idle | {net.nodes[n]["bus"].name for n in idle}


def _unused_units(rig: Rig) -> set[str]:
    """Units without a cable: one of them may be what a wrong name meant."""
    wired = {s.unit for c in rig.plan.cables for s in (c.start, c.end)}
    return {u.name for u in rig.plan.units.values() if u.name not in wired and not u.spare}


def _names_at(f: Finding, sources: Sources) -> set[str]:
    """Names and sockets typed where a finding is; the whole line where the file itself could not be read."""
    span = f.primary.span
    source = sources.get(span.file)
    if source is None or span.line >= len(source.lines):
        return set()
    line = source.lines[span.line]
    one = span.end_line == span.line and f.check not in ("yaml-syntax", "tab-indent", "duplicate-key")
    text = line
    if one and "->" not in line:
        # the item of a list or of `{…}` that it stands in, which says what the value belongs to
        start = max(line.rfind(sign, 0, span.column) for sign in ",[{")
        ends = (i for sign in ",]}" if (i := line.find(sign, span.end_column)) >= 0)
        text = line[start + 1 : min(ends, default=len(line))]
    sockets = {f"{m.group(1)}/{m.group(2)}" for m in re.finditer(rf"(?<![a-z0-9.-])({NAME})/(\w+ ?\w*)", text)}
    return sockets | set(re.findall(NAME, text))


def _without_consequences(
    findings: list[Finding], betters: dict[str, tuple[str, ...]], exceptions: tuple[Acceptance, ...]
) -> list[Finding]:
    """Drop a finding whose objects are all spoken for by a finding of a check that it yields to."""
    spoken: dict[str, set[str]] = {}
    told: dict[str, set[str]] = {}
    for f in findings:
        spoken.setdefault(f.check, set()).update(f.objects)
        if not any(_accepts(e, f) for e in exceptions):
            told.setdefault(f.check, set()).update(f.objects)
    kept = []
    for f in findings:
        by = told if f.check in HURTS else spoken
        over = [by[b] for b in betters.get(f.check, ()) if b != f.check and b in by]
        if not f.objects or not all(any(o in objects for objects in over) for o in f.objects):
            kept.append(f)
    return list(dict.fromkeys(kept))


def _without_accepted(
    findings: list[Finding], exceptions: tuple[Acceptance, ...], raw: list[Finding]
) -> tuple[list[Finding], list[tuple[Finding, str]]]:
    """Set apart what the plan accepts. `raw` is every finding made: an exception for a consequence is no unused one."""
    kept: list[Finding] = []
    accepted: list[tuple[Finding, str]] = []
    for f in findings:
        match = next((e for e in exceptions if _accepts(e, f)), None)
        if match is None:
            kept.append(f)
        else:
            accepted.append((f, match.reason))
    kept += [_unused(e, findings) for e in exceptions if not any(_accepts(e, f) for f in raw)]
    return kept, accepted


def _accepts(exception: Acceptance, finding: Finding) -> bool:
    here = (*finding.objects, finding.primary.span.human())
    return exception.check == finding.check and exception.at in here


def _unused(exception: Acceptance, findings: list[Finding]) -> Finding:
    if exception.check not in names():
        close = near(exception.check, names())
        fix = phrase("write `%(line)s`", line=close[0]) if close else phrase("`rigbook explain` lists the checks")
        message = phrase("there is no check `%(check)s` to accept", check=exception.check)
        return Finding("unknown-name", Severity.ERROR, message, Label(exception.span), remedy=fix)
    others = sorted({o for f in findings if f.check == exception.check for o in f.objects})
    fix = phrase("write `%(line)s`", line=f"at: {others[0]}") if others else phrase("take the exception out")
    return Finding(
        "unused-exception",
        Severity.WARNING,
        phrase("`%(check)s` no longer fires at `%(at)s`", check=exception.check, at=exception.at),
        Label(exception.span, phrase("accepted here")),
        effect=phrase("an exception that accepts nothing today may hide a fault tomorrow"),
        remedy=fix,
        objects=frozenset({exception.at}),
    )
