"""The stages in order, from a path to results. The file to read first.

    files -> records -> draft -> plan -> rig -> findings

Every stage gives its output and what it found; nothing raises for a user's mistake; findings are put in order by
place once, at the end.
"""

from __future__ import annotations

from pathlib import Path

from rigbook.checks.compiled import Compiled
from rigbook.findings.finding import in_order
from rigbook.plan.compose import compose
from rigbook.plan.files import Files
from rigbook.plan.resolve import resolve
from rigbook.plan.root import root_of


def compile_plan(path: Path, root: Path | None = None) -> Compiled:
    """Read, compose, resolve, connect and check one plan."""
    files = Files((root or root_of(path)).resolve())
    chain = files.chain(path)
    # a file of which nothing could be read is no plan: nothing is built of it, and what was built before stays
    if not chain or (files.findings and chain[0][1].values.keys() <= {"plan"}):
        return Compiled(files.root, files.sources, None, None, tuple(in_order(files.findings)))
    draft, found = compose(chain, files.sources)
    plan, more = resolve(draft)
    from rigbook.checks.run import run
    from rigbook.graph.rig import Rig

    rig = Rig.of(plan)
    findings, accepted = run(rig, [*files.findings, *found, *more], files.sources, files.root)
    return Compiled(files.root, files.sources, plan, rig, tuple(in_order(findings)), tuple(accepted))
