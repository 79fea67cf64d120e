"""A handbook is never left as it is where a fresh build would write another byte (modules unchanged, rests_on)."""

from __future__ import annotations

import shutil
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from rigbook.cli import main
from rigbook.commands import unchanged

SHOW = """\
plan: 1
show: Small
builds-on: house
units: {left: powered-top-12, right: powered-top-12}
inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
buses: {main: {}}
outputs: {main: desk/out 1}
wiring: {xlr: ["desk/out 1 -> left/in, 5 m", "left/link -> right/in, 10 m"]}
"""
HOUSE = "plan: 1\nvenue: Barn\nunits: {desk: desk-16}\n"
RECORD = "plan: 1\nwalk-test: {date: 2027-02-06}\n"


@pytest.fixture
def plan(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A show on a house, with a theme of its own and an empty cache; the folder worked in."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.delenv("RIGBOOK_CACHE", raising=False)
    work = tmp_path / "work"
    (work / "look/static").mkdir(parents=True)
    (work / "look/static/extra.css").write_text("p { margin: 0 }\n", "utf-8")
    (work / "look/theme.yaml").write_text("title: Own\nextends: plain\n", "utf-8")
    (work / "house.yaml").write_text(HOUSE, "utf-8")
    (work / "small.yaml").write_text(SHOW, "utf-8")
    monkeypatch.chdir(work)
    return work / "small.yaml"


@pytest.fixture
def compiled(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The plans that were compiled."""
    from rigbook import pipeline

    seen: list[Path] = []
    real = pipeline.compile_plan

    def spy(path: Path, root: Path | None = None) -> object:
        seen.append(path)
        return real(path, root)

    monkeypatch.setattr(pipeline, "compile_plan", spy)
    return seen


def build(*more: str, plans: tuple[str, ...] = ("small.yaml",), out: str = "site") -> int:
    time.sleep(2 * unchanged.SETTLED_NS / 1e9)  # as a person does, after what was written last
    return main(["build", *plans, "--out", out, "--jobs", "1", "--theme", "look", *more])


def tree(folder: str) -> dict[str, bytes | None]:
    """Everything in a folder; folders without bytes."""
    found = sorted(Path(folder).rglob("*"))
    return {p.relative_to(folder).as_posix(): p.read_bytes() if p.is_file() else None for p in found}


def clean(monkeypatch: pytest.MonkeyPatch, *more: str, **of: tuple[str, ...]) -> dict[str, bytes | None]:
    """What a build writes that remembers nothing, to a folder that is not there."""
    shutil.rmtree("clean", ignore_errors=True)
    with monkeypatch.context() as off:
        off.setenv("RIGBOOK_CACHE", "off")
        build(*more, **of, out="clean")
    return tree("clean")


def edit(name: str, old: str, new: str) -> Callable[[], object]:
    return lambda: Path(name).write_text(Path(name).read_text("utf-8").replace(old, new, 1), "utf-8")


def link(name: str, to: str) -> None:
    Path(name).symlink_to(to)


CHANGES: dict[str, Callable[[], object]] = {
    "a letter of the show": edit("small.yaml", "Voice", "Voise"),
    "the length of a cable": edit("small.yaml", "10 m", "11 m"),
    "a space": edit("small.yaml", "show: Small", "show:  Small"),
    "the house": edit("house.yaml", "Barn", "Born"),
    "a record of a walk": lambda: Path("small.walk-1.yaml").write_text(RECORD, "utf-8"),
    "a record of the house": lambda: Path("house.walk-1.yaml").write_text("plan: 2\n", "utf-8"),
    "a folder in the way of the house": lambda: Path("house").mkdir(),
    "the settings of the theme": edit("look/theme.yaml", "plain", "binder"),
    "a file of the theme": lambda: Path("look/static/print.css").write_text("p { margin: 1px }\n", "utf-8"),
    "a byte of a page": edit("site/index.html", "Small", "Smell"),
    "a page that is gone": lambda: Path("site/patch.html").unlink(),
    "a picture of another page": lambda: shutil.copy("site/patch.html", "site/static/handbook.css"),
    "a link in place of a page": lambda: (Path("site/patch.html").rename("patch"), link("site/patch.html", "../patch")),
    "an empty folder": lambda: Path("site/more").mkdir(),
    "the marker": edit("site/rigbook-site.txt", "index.html", "front.html"),
    "the whole folder": lambda: shutil.rmtree("site"),
}


@pytest.mark.parametrize("what", CHANGES)
def test_after_any_change_the_folder_holds_what_a_fresh_build_writes(
    what: str, plan: Path, compiled: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert build() == 0
    before = len(compiled)
    build()
    assert len(compiled) == before, "nothing has changed"
    CHANGES[what]()
    code = build()
    assert len(compiled) == before + 1 or code == 2
    if code == 2:
        return  # nothing was written, and the next build tries again
    assert tree("site") == clean(monkeypatch)
    looks = len(compiled)
    assert build() == code
    assert len(compiled) == looks or Path("house").is_dir(), "and now that stands"


@pytest.mark.parametrize(
    "more", [["--view", "guest"], ["--language", "de"], ["--data"], ["--theme", "binder"], ["--fail-on", "note"],
             ["--since", "small.yaml"]]
)  # fmt: skip
def test_other_options_give_another_handbook(
    more: list[str], plan: Path, compiled: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    build()
    build(*more)
    assert tree("site") == clean(monkeypatch, *more)
    build()
    assert tree("site") == clean(monkeypatch)
    assert len(compiled) >= 4, "one folder holds one handbook at a time"


def test_what_is_said_is_said_again(plan: Path, capsys: pytest.CaptureFixture[str], compiled: list[Path]) -> None:
    plan.write_text(SHOW.replace("-> left/in", "-> lefft/in"), "utf-8")
    codes, said = [], []
    for _ in range(2):
        codes.append(build("--data", "--view", "public"))
        said.append(capsys.readouterr())
    assert codes == [1, 1] and len(compiled) == 1
    assert said[1].out == said[0].out.replace("wrote ", "").replace("pages to site", "pages in site are up to date")
    assert said[1].err == said[0].err


@pytest.mark.parametrize("line", ["notes: {A: '![a](a.png)'}", "builds-on: none.yaml"])
def test_what_rests_on_other_files_is_always_made(line: str, plan: Path, compiled: list[Path]) -> None:
    plan.write_text(SHOW.replace("builds-on: house\n", f"{line}\n"), "utf-8")
    build()
    build()
    assert len(compiled) == 2


def test_another_program_and_what_changed_a_moment_ago_is_made_again(
    plan: Path, compiled: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    build()
    monkeypatch.setattr(unchanged, "program", lambda: "newer")
    build()
    assert len(compiled) == 2
    plan.write_text(SHOW.replace("Voice", "Voise"), "utf-8")
    arguments = ["build", "small.yaml", "--out", "site", "--theme", "look"]
    monkeypatch.setattr(unchanged, "SETTLED_NS", 10**12)
    assert main(arguments) == main(arguments) == 0
    assert len(compiled) == 4


def test_a_broken_or_closed_cache_does_no_harm(
    plan: Path, compiled: list[Path], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    build()
    (kept,) = (tmp_path / "cache/rigbook/handbooks").glob("*.json")
    for data in (b"", b"[]", b"{}", b"\xff", b'{"rests": 1, "written": 2, "told": 3}', kept.read_bytes()[:-9]):
        kept.write_bytes(data)
        assert build() == 0
    monkeypatch.setenv("XDG_CACHE_HOME", str(plan))  # a file, where no folder can be made
    assert build() == build() == 0
    assert len(compiled) == 9


def test_of_many_only_what_was_touched_is_made_again(
    plan: Path, compiled: list[Path], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    names = ("small.yaml", "other.yaml")
    Path("other.yaml").write_text(SHOW.replace("Small", "Other"), "utf-8")
    assert build(plans=names) == build(plans=names) == 0
    assert len(compiled) == 2
    assert "2 of 2 plans" in capsys.readouterr().out
    for change, made in (
        (edit("other.yaml", "Other", "Outer"), 1),
        (edit("house.yaml", "Barn", "Born"), 2),
        (edit("site/index.html", "Small", "Smell"), 0),
        (lambda: Path("site/rigbook-handbooks.txt").write_text(""), 0),
        (edit("site/small/index.html", "Small", "Smell"), 1),
    ):
        change()
        before = len(compiled)
        assert build(plans=names) == 0
        assert len(compiled) == before + made
        assert tree("site") == clean(monkeypatch, plans=names)
