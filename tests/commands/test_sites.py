"""Many plans in one run of `rigbook build` (modules build, sites): the same bytes whatever `--jobs`."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from rigbook.cli import main
from rigbook.commands.sites import names

PLAN = "plan: 1\nshow: {title}\nunits:\n  desk: {{kind: desk-16, title: \"{note}\"}}\n"


@pytest.fixture
def plans(tmp_path: Path) -> Path:
    folder = tmp_path / "plans"
    folder.mkdir()
    for name in ("barn", "hall", "yard"):
        (folder / f"{name}.yaml").write_text(PLAN.format(title=f"Show in the {name}", note=name), "utf-8")
    (folder / "wrong.yaml").write_text(PLAN.format(title="Wrong", note="x") + "nits: {}\n", "utf-8")
    return folder


def files(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def build(capsys: pytest.CaptureFixture[str], *arguments: object) -> tuple[int, str, str]:
    code = main(["build", *map(str, arguments)])
    return code, *capsys.readouterr()


def test_the_same_bytes_and_words_whatever_the_jobs(plans: Path, tmp_path: Path, capsys) -> None:
    one, two, three = (tmp_path / name for name in ("one", "two", "three"))
    said = [build(capsys, plans, "--out", out, "--jobs", n) for out, n in ((one, 1), (two, 2), (three, 5))]
    assert files(one) == files(two) == files(three)
    texts = [(code, out.replace(str(folder), "OUT"), err) for (code, out, err), folder in zip(said, (one, two, three))]
    assert texts[0] == texts[1] == texts[2]
    code, out, _ = texts[0]
    assert code == 1, "one of them has an error"
    assert [out.index(f"Show in the {name}") for name in ("barn", "hall", "yard")] == sorted(
        out.index(f"Show in the {name}") for name in ("barn", "hall", "yard")
    )
    assert "4 of 4 plans have a handbook in OUT" in out


def test_a_handbook_among_others_is_that_of_the_plan_alone(plans: Path, tmp_path: Path, capsys) -> None:
    build(capsys, plans, "--out", tmp_path / "many")
    build(capsys, plans / "hall.yaml", "--out", tmp_path / "alone")
    assert files(tmp_path / "many" / "hall") == files(tmp_path / "alone")


def test_the_list_leads_to_each(plans: Path, tmp_path: Path, capsys) -> None:
    build(capsys, plans, "--out", tmp_path / "out")
    text = (tmp_path / "out" / "index.html").read_text("utf-8")
    links = re.findall(r'<a href="([^"]+)">([^<]+)</a>', text)
    assert ("barn/index.html", "Show in the barn") in links and len(links) == 4
    for href in [a for a, _ in links] + re.findall(r'<link [^>]*href="([^"]+)"', text):
        assert (tmp_path / "out" / href).is_file(), href
    assert "1 error" in text
    build(capsys, plans, "--out", tmp_path / "public", "--view", "public", "--language", "de")
    text = (tmp_path / "public" / "index.html").read_text("utf-8")
    assert 'lang="de"' in text and "error" not in text and "Fehler" not in text


def test_what_cannot_be_built_leaves_its_old_handbook(plans: Path, tmp_path: Path, capsys) -> None:
    out = tmp_path / "out"
    build(capsys, plans, "--out", out)
    before = files(out / "barn")
    (plans / "barn.yaml").write_text("show: [", "utf-8")
    (plans / "hall.yaml").write_text(PLAN.format(title="New", note="x"), "utf-8")
    code, said, _ = build(capsys, plans / "barn.yaml", plans / "hall.yaml", plans / "wrong.yaml", "--strict",
                          "--out", out, "--jobs", 2)
    assert code == 2
    assert files(out / "barn") == before
    assert "1 of 3 plans have a handbook" in said
    text = (out / "index.html").read_text("utf-8")
    assert text.count("Not built this time") == 2 and ">New</a>" in text


def test_a_folder_with_something_else_is_left_alone(plans: Path, tmp_path: Path, capsys) -> None:
    out = tmp_path / "mine"
    out.mkdir()
    (out / "letter.txt").write_text("x", "utf-8")
    code, _, err = build(capsys, plans, "--out", out)
    assert code == 2 and "holds something else than handbooks" in err
    assert files(out) == {"letter.txt": b"x"}
    code, _, err = build(capsys, plans, plans / "none.yaml", "--out", tmp_path / "new")
    assert code == 2 and "there is no plan at" in err and not (tmp_path / "new").exists()
    assert build(capsys, plans, "--out", tmp_path / "new", "--jobs", -1)[0] == 2


def test_plans_of_one_name_get_that_of_their_folder() -> None:
    paths = [Path("/a/show.yaml"), Path("/b/show.yaml"), Path("/a/tour.yaml"), Path("/a/static.yaml")]
    assert names(paths) == ["a-show", "b-show", "tour", "a-static"]
    assert names([Path("/x/a/show.yaml"), Path("/y/a/show.yaml")]) == ["a-show", "a-show-2"]
