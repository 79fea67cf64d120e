"""Plan files on disk: which may be read, and the chain of files that a plan builds on."""

from __future__ import annotations

import glob
import re
from pathlib import Path
from typing import Final

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import NOWHERE, Source, Span
from rigbook.findings.suggest import near
from rigbook.language.read import read_plan
from rigbook.language.record import Record
from rigbook.records import changing, field
from rigbook.text.disk import inside, is_file, is_folder, is_there, resolved, take
from rigbook.text.limits import MAX_BYTES, MAX_CHAIN, MAX_FILES
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
            data, size = take(path, MAX_BYTES + 1)
        except OSError:
            self._no_file(path, name, span, typed)
            return None
        source, wrong = read_bytes(name, data, size)
        self.findings += wrong
        self.sources[name] = source
        node, wrong = read(source)
        self.findings += wrong
        record, wrong = read_plan(node)
        self.findings += wrong
        return record

    def name(self, path: Path) -> str:
        """How a path is called in findings: relative to the root."""
        full = resolved(path) or path
        return full.relative_to(self.root).as_posix() if full.is_relative_to(self.root) else full.name

    def _no_file(self, path: Path, name: str, span: Span, typed: str) -> None:
        others = [p for p in inside(path.parent) if p.match("*.y*ml") and p != path]
        beside = [p.name for p in others if self.name(p) != span.file]
        # by the stem: the shared ending would make every short name near to every other
        stems = {Path(other).stem: other for other in beside if ".walk-" not in other}
        folder = typed[: typed.rfind("/") + 1]
        close = [folder + stems[stem] for stem in near(path.stem, stems)]
        why = FOLDER if is_folder(path) else UNREAD if is_there(path) else ABSENT
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
        self._follow(resolved(path) or path, NOWHERE, (), out)
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
        if len(above) == MAX_CHAIN or len(out) == MAX_FILES:
            message = phrase("the plan is made of more than %(most)s files", most=MAX_FILES)
            if len(above) == MAX_CHAIN:
                message = phrase("more than %(most)s files build on one another in a row", most=MAX_CHAIN)
            fix = phrase("say it in fewer files")
            if not any(f.check == "too-large" and f.message == message for f in self.findings):
                self._add("too-large", span, message, fix)
            return
        record = self.load(path, span, typed)
        if record is None:
            return
        out.append((name, record))
        for beside in sorted(path.parent.glob(f"{glob.escape(path.stem)}.walk-*.yaml")):
            # a record of a walk test is read as soon as it lies there: several phones write several files
            real = resolved(beside) if is_file(beside) else None
            if real is not None and real.is_relative_to(self.root):
                self._follow(real, span, (*above, path), out)
        for text in record.get("builds-on", ()):
            self._base(path, str(text), record.at("builds-on"), (*above, path), out)

    def _base(self, path: Path, text: str, span: Span, above: tuple[Path, ...], out: list[tuple[str, Record]]) -> None:
        found = resolved(path.parent / text)
        if found is not None and not found.suffix and not is_folder(found):
            # resolved once more: what has the ending may be a link
            found = resolved(found.with_suffix(".yaml"))
        if found is None:
            self._no_file(path.parent / "?", text, span, text)
            return
        if Path(text).is_absolute() or not found.is_relative_to(self.root):
            fix = phrase("keep every plan file inside the repository and write the path from this file")
            self._add("path-outside", span, phrase("`%(path)s` lies outside the repository", path=text), fix)
            return
        self._follow(found, span, above, out, text)

    def _add(self, check: str, span: Span, message: str, remedy: str, path: str = "") -> None:
        self.findings.append(Finding(check, Severity.ERROR, message, Label(span), remedy=remedy, path=path))


def plans_in(folder: Path) -> list[Path]:
    """The plan files of a folder (not below it) whose first lines say `show:` or `venue:`; shows before venues."""
    found: list[tuple[int, Path]] = []
    for path in (p for p in inside(folder) if p.suffix in (".yaml", ".yml") and is_file(p)):
        try:
            data, size = take(path, MAX_BYTES + 1)
        except OSError:
            continue
        node, wrong = read(read_bytes(path.name, data, size)[0])
        items = node.items if isinstance(node, Mapping) else {}
        for rank, key in enumerate(("show", "venue")):
            # the very line may be what cannot be read, as in `show: Friday: the gig`
            if isinstance(items.get(key), Scalar) or (wrong and re.search(rb"^%b\s*:" % key.encode(), data, re.M)):
                found.append((rank, path))
                break
    best = min((rank for rank, _ in found), default=0)
    return [path for rank, path in found if rank == best]
