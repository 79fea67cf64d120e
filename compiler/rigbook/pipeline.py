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
    bases = tuple((name, str(text)) for name, record in chain for text in record.get("builds-on", ()))
    return Compiled(files.root, files.sources, plan, rig, tuple(in_order(findings)), tuple(accepted), bases)


def compile_at(path: Path, revision: str) -> Compiled:
    """A plan as it stood at an earlier revision of the git repository that it lies in. NoRevision where it did not."""
    from tempfile import TemporaryDirectory

    from rigbook.findings.suggest import near
    from rigbook.plan.earlier import NoRevision, files_at

    root = root_of(path).resolve()
    name = path.resolve().relative_to(root).as_posix()
    files = files_at(root, revision)
    if name not in files:
        close = near(name, files)
        hint = f", did you mean `git show {revision}:{close[0]}`?" if close else ""
        raise NoRevision(f"there was no `{name}` at `{revision}`{hint}")
    with TemporaryDirectory(prefix="rigbook-") as folder:
        top = Path(folder).resolve()
        for at, data in files.items():
            file = top / at
            if file.resolve().is_relative_to(top):
                file.parent.mkdir(parents=True, exist_ok=True)
                file.write_bytes(data)
        return compile_plan(top / name, top)
