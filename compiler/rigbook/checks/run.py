"""Run every check; keep one message for one fault; set apart what the plan accepts.

Two kinds of consequence are dropped. A check may name its betters (`YIELDS_TO`): a finding whose objects are all
spoken for by theirs goes. And a check that reports that something is missing (`ABSENCE = True`) is not believed
about things that hang on a line which could not be read: what is missing probably stands there.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from rigbook.checks.catalogue import modules, names
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Sources
from rigbook.findings.suggest import near
from rigbook.graph.rig import Rig
from rigbook.language.values.names import NAME
from rigbook.plan.model import Acceptance

EARLIER = ("unknown-name", "unknown-port", "over-capacity", "port-unsaid", "wrong-direction", "wrong-kind")
"""Findings of the resolver. A check about the same objects yields to them without saying so."""

UNREAD = (
    "yaml-syntax",
    "tab-indent",
    "wrong-value",
    "wrong-shape",
    "wrong-unit",
    "unknown-key",
    "missing-file",
    "path-outside",
)
"""Findings that leave a hole in the plan: a line or value that could not be read."""


def run(rig: Rig, earlier: Iterable[Finding], sources: Sources) -> tuple[list[Finding], list[tuple[Finding, str]]]:
    """Every finding of a rig together with those of earlier stages, and the accepted ones with their reasons."""
    findings = list(earlier)
    hole = _near_holes(rig, findings, sources)
    betters: dict[str, tuple[str, ...]] = {}
    for module in modules():
        slug = module.__name__.rpartition(".")[2].replace("_", "-")
        betters[slug] = (*EARLIER, *getattr(module, "YIELDS_TO", ()))
        found = module.find(rig)
        if hole and getattr(module, "ABSENCE", False):
            found = (f for f in found if not f.objects & hole and "*" not in hole)
        findings += found
    kept = _without_consequences(findings, betters)
    return _without_accepted(kept, rig.plan.exceptions)


def _near_holes(rig: Rig, findings: list[Finding], sources: Sources) -> set[str]:
    """Names of everything up and down the signal from things named on lines that could not be read; `*` for all."""
    import networkx as nx

    names: set[str] = set()
    for f in findings:
        if f.check in ("missing-file", "path-outside") or (f.check == "unknown-key" and f.primary.span.column == 0):
            return {"*"}
        if f.check in UNREAD:
            names |= _names_at(f, sources)
    if not names:
        return names
    nodes = {n for n, d in rig.graph.nodes(data=True) if n in names or (d["unit"] in names and "/" not in n)}
    units = {n for n in names if n in rig.plan.units}
    nodes |= {
        n
        for n, d in rig.graph.nodes(data=True)
        if d["unit"] in units and rig.plan.units[d["unit"]].family not in ("desk", "stage box")
    }
    nodes |= {n for n, d in rig.graph.nodes(data=True) if d["kind"] == "bus" and d["bus"].name in names}
    reach = set(nodes)
    for node in nodes:
        reach |= nx.descendants(rig.graph, node) | nx.ancestors(rig.graph, node)
    data = rig.graph.nodes
    return names | reach | {data[n]["bus"].name for n in reach if data[n]["kind"] == "bus"}


def _names_at(f: Finding, sources: Sources) -> set[str]:
    """Names and sockets typed where a finding is; the whole line where the file itself could not be read."""
    span = f.primary.span
    source = sources.get(span.file)
    if source is None or span.line >= len(source.lines):
        return set()
    line = source.lines[span.line]
    one = span.end_line == span.line and f.check not in ("yaml-syntax", "tab-indent")
    text = line[span.column : span.end_column] if one else line
    if "->" in line:
        text = line
    sockets = {f"{m.group(1)}/{m.group(2)}" for m in re.finditer(rf"({NAME})/(\w+ ?\w*)", text)}
    return sockets | set(re.findall(NAME, text))


def _without_consequences(findings: list[Finding], betters: dict[str, tuple[str, ...]]) -> list[Finding]:
    """Drop a finding whose objects are all spoken for by a finding of a check that it yields to."""
    spoken: dict[str, set[str]] = {}
    for f in findings:
        spoken.setdefault(f.check, set()).update(f.objects)
    kept = []
    for f in findings:
        over = set().union(*(spoken.get(b, ()) for b in betters.get(f.check, ()) if b != f.check))
        if not (f.objects and f.objects <= over):
            kept.append(f)
    return list(dict.fromkeys(kept))


def _without_accepted(
    findings: list[Finding], exceptions: tuple[Acceptance, ...]
) -> tuple[list[Finding], list[tuple[Finding, str]]]:
    kept: list[Finding] = []
    accepted: list[tuple[Finding, str]] = []
    used: set[Acceptance] = set()
    for f in findings:
        match = next(
            (e for e in exceptions if e.check == f.check and e.at in (*f.objects, f.primary.span.human())), None
        )
        if match is None:
            kept.append(f)
        else:
            used.add(match)
            accepted.append((f, match.reason))
    for e in exceptions:
        if e not in used:
            kept.append(_unused(e, findings))
    return kept, accepted


def _unused(exception: Acceptance, findings: list[Finding]) -> Finding:
    if exception.check not in names():
        close = near(exception.check, names())
        fix = f"write `{close[0]}`" if close else "`rigbook explain` lists the checks"
        message = f"there is no check `{exception.check}` to accept"
        return Finding("unknown-name", Severity.ERROR, message, Label(exception.span), remedy=fix)
    others = sorted({o for f in findings if f.check == exception.check for o in f.objects})
    fix = f"write `at: {others[0]}`" if others else "take the exception out"
    return Finding(
        "unused-exception",
        Severity.WARNING,
        f"`{exception.check}` no longer fires at `{exception.at}`",
        Label(exception.span, "accepted here"),
        effect="an exception that accepts nothing today may hide a fault tomorrow",
        remedy=fix,
        objects=frozenset({exception.at}),
    )
