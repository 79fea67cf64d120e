"""Fuzzing: plans of the tree with hostile changes, read, checked or built. No input may give a traceback, take long,
or give a finding that has no place.

    python tests/helpers/fuzz.py reader --runs 100000      text, language, plan: from bytes to a resolved plan
    python tests/helpers/fuzz.py check --runs 5000         and the rig, every check, every renderer of findings
    python tests/helpers/fuzz.py build --runs 200          and every page of a view

The n-th run of a seed is the same everywhere. What fails is printed once, made small, with its number; `--keep
DIR` writes each small plan to a file. Put it into a test beside the mend.
"""

from __future__ import annotations

import argparse
import random
import re
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "compiler"))

from helpers.check_pages import COMMON, PLAN, cases, split
from helpers.mutations import Pool, mutated, pool_of
from helpers.tools import ROOT
from rigbook.checks.compiled import Compiled
from rigbook.findings.finding import Finding
from rigbook.findings.place import Source
from rigbook.findings.to_json import to_json
from rigbook.findings.to_sarif import to_sarif
from rigbook.findings.to_terminal import to_terminal
from rigbook.language.read import read_plan
from rigbook.language.record import Record
from rigbook.pipeline import compile_plan
from rigbook.plan.compose import compose
from rigbook.plan.resolve import resolve
from rigbook.text.yaml_reader import read, read_bytes

PATIENCE_S = 2.0
"""Processor time that a small input may take. A check of a whole festival takes less than a second."""
TOLD_EACH = 5_000
"""Runs between two words of progress."""
VIEWS = ("crew", "guest", "public")
LANGUAGES = ("en", "de", "fr", "x-mirror")


class Hang(Exception):
    """An input took more than its time."""


class Misplaced(Exception):
    """A finding points to no place, or cannot be printed."""


@dataclass(frozen=True)
class Seed:
    """A plan that changes are made to, and the files beside it."""

    text: str
    beside: tuple[tuple[str, str], ...]
    """Name from the folder of the plan and text."""


@dataclass(frozen=True)
class Fault:
    """Something that went wrong, as small as it could be made."""

    key: str
    """The same for the same fault."""
    told: str
    data: bytes
    seed: Seed
    number: int


def seeds() -> tuple[Seed, ...]:
    """Every show, every plan of the pages of checks, every kind of the shipped library."""
    common = tuple((f"common/{p.name}", p.read_text("utf-8")) for p in sorted(COMMON.glob("*.yaml")))
    out = []
    for page in sorted((ROOT / "tests" / "checks").glob("*/*.md")):
        for case in cases(page.read_text("utf-8")):
            files = split(case.text)[0]
            if sum(map(len, files.values())) < 20_000:
                text = files.pop(PLAN)
                out.append(Seed(text, (*files.items(), *(c for c in common if c[0] in text or files))))
    for show in sorted((ROOT / "shows").glob("*/*.yaml")):
        others = [p for p in sorted(show.parent.glob("*.yaml")) if p != show]
        out.append(Seed(show.read_text("utf-8"), tuple((p.name, p.read_text("utf-8")) for p in others)))
    out += [Seed(p.read_text("utf-8"), ()) for p in sorted((ROOT / "compiler" / "rigbook" / "gear").rglob("*.yaml"))]
    return tuple(out)


def well_placed(findings: Iterable[Finding], sources: dict[str, Source]) -> None:
    """Misplaced where a finding has no place within its file, or could steer a terminal."""
    for finding in findings:
        for label in (finding.primary, *finding.secondary):
            span = label.span
            if not span.file or (not span.file.startswith("gear:") and span.file not in sources):
                raise Misplaced(f"{finding.check}: no place: {finding.message}")
            source = sources.get(span.file)
            line = source.lines[span.line] if source and 0 <= span.line < len(source.lines) else ""
            if source and not (0 <= span.line < len(source.lines) and 0 <= span.column <= len(line) + 1
                               and (span.end_line, span.end_column) >= (span.line, span.column)):
                raise Misplaced(f"{finding.check}: outside its file, {span}: {finding.message}")
        shown = to_terminal(finding, sources)
        if any(c < " " and c != "\n" for c in shown):
            raise Misplaced(f"{finding.check}: steers the terminal: {shown!r}")


def one_file(name: str, data: bytes) -> tuple[Source, Record, list[Finding]]:
    """One file to its record."""
    source, wrong = read_bytes(name, data)
    node, more = read(source)
    record, most = read_plan(node)
    return source, record, [*wrong, *more, *most]


known_file = lru_cache(maxsize=64)(one_file)
"""The same for a file that is not changed."""


def read_all(data: bytes, seed: Seed, folder: Path) -> None:
    """From bytes to a resolved plan, as `pipeline.py` does it, without a disk."""
    sources: dict[str, Source] = {}
    chain: list[tuple[str, Record]] = []
    findings: list[Finding] = []
    beside = [(n, t.encode()) for n, t in seed.beside[:1] if b"builds-on" in data and len(t) < 4000]
    for name, content in ((PLAN, data), *beside):
        source, record, wrong = (one_file if name == PLAN else known_file)(name, content)
        sources[name] = source
        findings += wrong
        chain.append((name, record))
    draft, wrong = compose(chain, sources)
    _, more = resolve(draft)
    well_placed([*findings, *wrong, *more], sources)


def check_all(data: bytes, seed: Seed, folder: Path) -> Compiled:
    """The whole compilation of a plan in a folder, and its findings in every form."""
    for name, text in (*((n, t) for n, t in seed.beside), (PLAN, "")):
        file = folder / name
        file.parent.mkdir(exist_ok=True)
        file.write_bytes(text.encode() if name != PLAN else data)
    got = compile_plan(folder / PLAN, folder)
    well_placed(got.findings, got.sources)
    to_json(got.findings)
    to_sarif(got.findings)
    return got


def build_all(data: bytes, seed: Seed, folder: Path) -> None:
    """The pages of a view in a language, chosen by the input."""
    from rigbook.handbook.make import make
    from rigbook.handbook.themes import find_theme

    got = check_all(data, seed, folder)
    if got.plan is not None:
        chance = random.Random(len(data))
        make(got, chance.choice(VIEWS), find_theme("plain"), chance.choice(LANGUAGES), with_data=True)


Level = Callable[[bytes, Seed, Path], object]
LEVELS: tuple[tuple[str, Level], ...] = (("reader", read_all), ("check", check_all), ("build", build_all))


def tried(level: Level, data: bytes, seed: Seed, folder: Path, patience: float = PATIENCE_S) -> tuple[str, str]:
    """One execution: a key and a text of what went wrong, both empty where nothing did."""

    def stop(number: int, frame: object) -> None:
        raise Hang(f"more than {patience} s")

    signal.signal(signal.SIGVTALRM, stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, patience)
    begun = time.process_time()
    try:
        level(data, seed, folder)
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        if time.process_time() - begun > patience:
            return "Hang", f"{time.process_time() - begun:.1f} s"
    except Misplaced as error:
        return f"Misplaced {str(error)[:40]}", str(error)
    except Exception as error:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        frames = [f for f in traceback.extract_tb(error.__traceback__) if "rigbook" in f.filename]
        last = frames[-1] if frames else None
        at = f"{Path(last.filename).name}:{last.lineno}" if last and not isinstance(error, Hang) else ""
        return f"{type(error).__name__} {at}", "".join(traceback.format_exception(error)[-6:])
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
    return "", ""


def made_small(level: Level, fault: Fault, folder: Path, tries: int = 400) -> bytes:
    """The input without whatever it fails without: lines first, then single letters of what is left."""
    parts = fault.data.splitlines(keepends=True)
    for joint in range(2):
        size = max(len(parts) // 2, 1)
        while size and tries > 0:
            at = 0
            while at < len(parts) and tries > 0:
                fewer = parts[:at] + parts[at + size :]
                tries -= 1
                if tried(level, b"".join(fewer), fault.seed, folder)[0] == fault.key:
                    parts = fewer
                else:
                    at += size
            size //= 2
        if not joint:
            parts = [bytes([b]) for b in b"".join(parts)]
            tries = 400 if len(parts) < 3000 else 0
    return b"".join(parts)


def inputs(seed: int, plans: tuple[Seed, ...], pool: Pool) -> Iterator[tuple[int, bytes, Seed]]:
    """Input after input, each by its number alone."""
    number = 0
    short = [s for s in plans if len(s.text) < 3000]
    while True:
        chance = random.Random(f"{seed} {number}")
        plan = chance.choice(plans if chance.random() < 0.5 else short)
        text = plan.text if chance.random() < 0.2 and len(plan.text) < 3000 else some_sections(plan.text, chance)
        yield number, mutated(text, chance, pool), plan
        number += 1


def some_sections(text: str, chance: random.Random) -> str:
    """The head of a plan and a few of its sections, each cut short where it is long: small inputs run quickly."""
    head, *parts = re.split(r"(?m)^(?=[a-z])", text)
    chosen = chance.sample(parts, min(len(parts), chance.choice((1, 2, 2, 3, 4))))
    return head[:200] + "".join("".join(p.splitlines(keepends=True)[: chance.choice((3, 8, 25))]) for p in chosen)


def fuzz(
    level: Level, runs: int, seed: int, folder: Path, seconds: float = 1e9, first: int = 0
) -> tuple[int, list[Fault]]:
    """How many executions there were, and the faults found, each once."""
    plans = seeds()
    pool = pool_of([s.text for s in plans])
    known: dict[str, Fault] = {}
    end = time.monotonic() + seconds
    number = first
    for number, data, plan in inputs(seed, plans, pool):
        if number < first:
            continue
        if number >= first + runs or time.monotonic() > end:
            break
        if number > first and (number - first) % TOLD_EACH == 0:
            sys.stderr.write(f"{number - first} runs\n")
        key, told = tried(level, data, plan, folder)
        if key and key not in known:
            fault = Fault(key, told, data, plan, number)
            known[key] = fault = Fault(key, told, made_small(level, fault, folder), plan, number)
            sys.stdout.write(f"--- {key} (run {number} of seed {seed})\n{told}\n{fault.data[:600]!r}\n")
            sys.stdout.flush()
    return number - first, list(known.values())


def main() -> int:
    """The program: see the docstring of this file."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("level", choices=[name for name, _ in LEVELS])
    parser.add_argument("--runs", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--first", type=int, default=0, help="number of the first run")
    parser.add_argument("--seconds", type=float, default=1e9, help="stop after so long")
    parser.add_argument("--keep", type=Path, help="folder for the small plans that fail")
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        level, place = dict(LEVELS)[args.level], Path(folder).resolve()
        count, faults = fuzz(level, args.runs, args.seed, place, args.seconds, args.first)
    for n, fault in enumerate(faults if args.keep else ()):
        args.keep.mkdir(parents=True, exist_ok=True)
        (args.keep / f"{args.level}-{args.seed}-{n}.yaml").write_bytes(fault.data)
    sys.stdout.write(f"{count} runs of {args.level}, seed {args.seed}: {len(faults)} faults\n")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
