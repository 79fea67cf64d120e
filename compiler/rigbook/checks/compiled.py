"""A plan as far as it could be compiled: what the pipeline hands to commands and pages."""

from __future__ import annotations

from pathlib import Path

from rigbook.findings.finding import Finding
from rigbook.findings.place import Sources
from rigbook.graph.rig import Rig
from rigbook.plan.model import Plan
from rigbook.records import frozen


@frozen
class Compiled:
    """A plan as far as it could be compiled. `rig` is None only where no plan could be read at all."""

    root: Path
    sources: Sources
    plan: Plan | None
    rig: Rig | None
    findings: tuple[Finding, ...]
    accepted: tuple[tuple[Finding, str], ...] = ()
    """Findings that the plan accepts, with the reason."""
    bases: tuple[tuple[str, str], ...] = ()
    """By file: what it builds on, as typed."""
