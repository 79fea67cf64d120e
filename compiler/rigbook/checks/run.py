"""Run every check; keep one message for one fault; set apart what the plan accepts."""

from __future__ import annotations

from collections.abc import Iterable

from rigbook.checks.catalogue import modules, names
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.suggest import near
from rigbook.graph.rig import Rig
from rigbook.plan.model import Exception_

EARLIER = ("unknown-name", "unknown-port", "over-capacity", "port-unsaid", "wrong-direction", "wrong-kind")
"""Findings of the resolver. A check about the same objects yields to them without saying so."""


def run(rig: Rig, earlier: Iterable[Finding]) -> tuple[list[Finding], list[tuple[Finding, str]]]:
    """Every finding of a rig together with those of earlier stages, and the accepted ones with their reasons."""
    findings = list(earlier)
    betters: dict[str, tuple[str, ...]] = {}
    for module in modules():
        slug = module.__name__.rpartition(".")[2].replace("_", "-")
        betters[slug] = (*EARLIER, *getattr(module, "YIELDS_TO", ()))
        findings += module.find(rig)
    kept = _without_consequences(findings, betters)
    return _without_accepted(kept, rig.plan.exceptions)


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
    findings: list[Finding], exceptions: tuple[Exception_, ...]
) -> tuple[list[Finding], list[tuple[Finding, str]]]:
    kept: list[Finding] = []
    accepted: list[tuple[Finding, str]] = []
    used: set[Exception_] = set()
    for f in findings:
        match = next((e for e in exceptions if e.check == f.check and e.at in (*f.objects, f.primary.span.human())), None)
        if match is None:
            kept.append(f)
        else:
            used.add(match)
            accepted.append((f, match.reason))
    for e in exceptions:
        if e not in used:
            kept.append(_unused(e, findings))
    return kept, accepted


def _unused(exception: Exception_, findings: list[Finding]) -> Finding:
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
