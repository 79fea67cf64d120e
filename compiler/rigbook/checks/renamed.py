"""A unit that is called otherwise where it is declared than everywhere else: what to write follows from the plan."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from rigbook.findings.finding import Finding
from rigbook.findings.place import Sources
from rigbook.graph.rig import Rig
from rigbook.plan.model import Unit
from rigbook.records import replace
from rigbook.text.phrase import phrase

NO_UNIT: Final = "there is no unit `"
"""How a message about a unit that is named and not declared begins."""


def renamed(findings: list[Finding], rig: Rig, sources: Sources) -> list[Finding]:
    """The findings, with a better remedy where one unit of the plan is named nowhere else and has the sockets.

    A unit that took the name of another one, given twice, is one fault: what was lost is what the second is to be.
    """
    lost = [f for f in findings if f.check == "unknown-name" and str(f.message).startswith(NO_UNIT)]
    twice = [f for f in findings if f.check == "duplicate-key" and _said(f) in rig.plan.units]
    if len(lost) == 1 and len(twice) == 1 and len(lost[0].objects) == 1:
        (name,) = lost[0].objects
        told = replace(twice[0], remedy=phrase("write `%(line)s`", line=name), objects=frozenset({name}))
        return [told if f is twice[0] else f for f in findings if f is not lost[0]]
    better = {id(f): _better(f, rig, sources) for f in lost if len(f.objects) == 1}
    return [better.get(id(f)) or f for f in findings]


def _said(finding: Finding) -> str:
    return str(finding.message).partition("`")[2].partition("`")[0]


def _better(finding: Finding, rig: Rig, sources: Sources) -> Finding | None:
    (name,) = finding.objects
    if "/" in name:
        return None
    text = "\n".join(s.text for s in sources.values())
    ports = {p for c in rig.plan.cables for s in (c.start, c.end) if s.unit == name for p in (s.port,) if p != "?"}
    fitting = [u for u in rig.plan.units.values() if _times(u.name, text) == 1 and not u.spare and _has(u, ports)]
    if len(fitting) != 1:
        return None
    unit, often = fitting[0].name, _times(name, text)
    if often == 1:
        return replace(finding, remedy=phrase("write `%(line)s`", line=unit))
    fix = phrase("write `%(line)s` for `%(name)s` under `units:`, which is named nowhere else", line=name, name=unit)
    return replace(finding, remedy=fix)


def _times(name: str, text: str) -> int:
    return len(re.findall(rf"(?<![\w.-]){re.escape(name)}(?![\w.-])", text))


def _has(unit: Unit, ports: Iterable[str]) -> bool:
    return unit.kind is not None and all(p in unit.kind.ports for p in ports)
