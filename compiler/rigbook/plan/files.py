"""Plan files on disk: which may be read, and the chain of files that a plan builds on."""

from __future__ import annotations

import glob
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import NOWHERE, Source, Span
from rigbook.findings.suggest import near
from rigbook.language.grammar import Record
from rigbook.language.read import read_plan
from rigbook.records import changing, field
from rigbook.text.phrase import joined, phrase
from rigbook.text.tree import Mapping, Scalar
from rigbook.text.yaml_reader import read, read_bytes

FOLDER: Final = phrase("the file `%(name)s` is a folder")
UNREAD: Final = phrase("the file `%(name)s` cannot be read")
ABSENT: Final = phrase("the file `%(name)s` does not exist")


@changing
class Files:
    """What is read for one plan. `sources` is filled as files are read."""

    root: Path
    sources: dict[str, Source] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    def load(self, path: Path, span: Span = NOWHERE, typed: str = "") -> Record | None:
        """One file as a record; None (with a finding) where it cannot be read. `typed` is how a plan names it."""
        name = self.name(path)
        try:
            data = path.read_bytes()
        except OSError:
            self._no_file(path, name, span, typed)
            return None
        source, wrong = read_bytes(name, data)
        self.findings += wrong
        self.sources[name] = source
        node, wrong = read(source)
        self.findings += wrong
        record, wrong = read_plan(node)
        self.findings += wrong
        return record

    def name(self, path: Path) -> str:
        """How a path is called in findings: relative to the root."""
        full = path.resolve()
        return full.relative_to(self.root).as_posix() if full.is_relative_to(self.root) else full.name

    def _no_file(self, path: Path, name: str, span: Span, typed: str) -> None:
        beside = sorted(p.name for p in path.parent.glob("*.y*ml") if self.name(p) != span.file and p != path)
        # by the stem: the shared ending would make every short name near to every other
        stems = {Path(other).stem: other for other in beside if ".walk-" not in other}
        folder = typed[: typed.rfind("/") + 1]
        close = [folder + stems[stem] for stem in near(path.stem, stems)]
        why = FOLDER if path.is_dir() else UNREAD if path.exists() else ABSENT
        fix = phrase("write the path from the file that names it, such as `../venues/barn.yaml`")
        if close:
            fix = phrase("write `%(line)s`", line=close[0])
        elif stems and typed:
            shown = joined(f"`{folder}{other}`" for other in list(stems.values())[:5])
            fix = phrase("name a file that is there: %(files)s", files=shown)
        self.findings.append(
            Finding(
                "missing-file",
                Severity.ERROR,
                phrase(why, name=name),
                Label(span),
                remedy=fix,
            )
        )

    def chain(self, path: Path) -> list[tuple[str, Record]]:
        """The plan, the records of walk tests beside it (`PLAN.walk-….yaml`), and everything it builds on with theirs;
        the top one first, each file once.
        """
        out: list[tuple[str, Record]] = []
        self._follow(path.resolve(), NOWHERE, (), out)
        return out

    def _follow(
        self, path: Path, span: Span, above: tuple[Path, ...], out: list[tuple[str, Record]], typed: str = ""
    ) -> None:
        name = self.name(path)
        if path in above:
            ring = " -> ".join(self.name(p) for p in (*above[above.index(path) :], path))
            self._add(
                "builds-on-ring",
                span,
                phrase("`%(name)s` builds on itself", name=name),
                phrase("take one `builds-on` line out"),
                ring,
            )
            return
        if any(name == n for n, _ in out):
            return
        record = self.load(path, span, typed)
        if record is None:
            return
        out.append((name, record))
        for beside in sorted(path.parent.glob(f"{glob.escape(path.stem)}.walk-*.yaml")):
            # a record of a walk test is read as soon as it lies there: several phones write several files
            if beside.is_file() and beside.resolve().is_relative_to(self.root):
                self._follow(beside.resolve(), span, (*above, path), out)
        for text in record.get("builds-on", ()):
            self._base(path, str(text), record.at("builds-on"), (*above, path), out)

    def _base(self, path: Path, text: str, span: Span, above: tuple[Path, ...], out: list[tuple[str, Record]]) -> None:
        base = (path.parent / text).resolve()
        if not base.suffix:
            base = base.with_suffix(".yaml")
        if Path(text).is_absolute() or not base.is_relative_to(self.root):
            fix = phrase("keep every plan file inside the repository and write the path from this file")
            self._add("path-outside", span, phrase("`%(path)s` lies outside the repository", path=text), fix)
            return
        self._follow(base, span, above, out, text)

    def _add(self, check: str, span: Span, message: str, remedy: str, path: str = "") -> None:
        self.findings.append(Finding(check, Severity.ERROR, message, Label(span), remedy=remedy, path=path))


def plans_in(folder: Path) -> list[Path]:
    """The plan files of a folder (not below it) whose first lines say `show:` or `venue:`; shows before venues."""
    found: list[tuple[int, Path]] = []
    for path in sorted(_yaml_files(folder)):
        source, _ = read_bytes(path.name, path.read_bytes())
        node, _ = read(source)
        if isinstance(node, Mapping):
            for rank, key in enumerate(("show", "venue")):
                if isinstance(node.items.get(key), Scalar):
                    found.append((rank, path))
                    break
    best = min((rank for rank, _ in found), default=0)
    return [path for rank, path in found if rank == best]


def _yaml_files(folder: Path) -> Iterable[Path]:
    return (p for p in folder.iterdir() if p.suffix in (".yaml", ".yml") and p.is_file())
