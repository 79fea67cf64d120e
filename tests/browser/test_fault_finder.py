"""The fault finder of the page and the one of `rigbook diagnose`: same answers, same suspects, same next test."""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from helpers import tools
from helpers.sites import shows
from helpers.walk_rigs import rig_at
from rigbook.walk.answers import outcome_words
from rigbook.walk.finder import titles_of
from rigbook.walk.island import data, script_data
from rigbook.walk.say import probe_words
from rigbook.walk.suspects import next_probe, suspects
from rigbook.walk.table import HEARD, Row, Seen, Table

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

STATIC = tools.ROOT / "themes" / "plain" / "static"
ASK = """(cases) => cases.map((answers) => {
    const given = new Map(answers), left = finder.suspects(given), test = finder.next(given, left);
    const text = (sentence) => finder.parts(sentence).map(([words]) => words).join("");
    return {
        left: left.map((s) => [s.misses, s.both, s.unsaid, s.rows.map((r) => `${text(r.w)}: ${text(r.c)}`)]),
        next: test && [test.thing.order, test.outcomes.map((o) => [finder.words(test.thing, o.value), o.suspects])],
    };
})"""


@pytest.fixture(scope="module")
def page() -> Iterator[Page]:
    executable = tools.chromium()
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=executable, args=tools.launch_flags())
        yield browser.new_page()
        browser.close()


def load(page: Page, table: Table, folder: Path) -> None:
    """An empty page with the script and the table."""
    script = (STATIC / "walk-test-finder.js").as_uri()
    island = script_data(data(table, lambda sort, name: f"{sort}#{name}"))
    start = 'const finder = walkFinder(JSON.parse(document.getElementById("data").textContent))'
    text = f"""<!doctype html><title>x</title><script id=data type=application/json>{island}</script>
<script src="{script}"></script><script>{start}</script>"""
    (folder / "page.html").write_text(text, "utf-8")
    page.goto((folder / "page.html").as_uri())


def python_says(table: Table, answers: dict[Seen, str]) -> dict[str, Any]:
    left = suspects(table, answers)
    test = next_probe(table, left, answers)
    titles = titles_of(table)
    return {
        "left": [[s.misses, s.both, s.unsaid, [plain(r) for r in s.rows]] for s in left],
        "next": test and [
            probe_words(table.rig, test.seen, titles.get(test.seen.play, "")),
            [[outcome_words(table, test.seen, value), list(which)] for value, which in test.outcomes],
        ],
    }


def plain(row: Row) -> str:
    return f"{row.fault.words}: {row.fault.check}".replace("`", "")


def cases(table: Table) -> Iterator[dict[Seen, str]]:
    """Every fault answered whole, in its first step only, with a probe more, a shade off; and two faults at once."""
    everything = {s for r in table.testable for s in r.effects if s.kind in HEARD}
    for row in table.testable:
        answers = {s: row.effects.get(s, "") for s in everything if not (row.behind and s.play in table.line_keys)}
        yield answers
        play = min(s.play for s, _ in row.heard)
        yield {s: v for s, v in answers.items() if s.play == play}
        left = suspects(table, answers)
        test = next_probe(table, left, answers)
        if test:
            yield answers | {test.seen: row.effects.get(test.seen, "")}
        yield {s: "dull" if v == "thin" else v for s, v in answers.items() if v}
    for one, two in list(pairwise(table.testable))[::11]:
        steps = [s for s in everything if s.play not in table.line_keys]
        yield {s: one.effects.get(s) or two.effects.get(s, "") for s in steps}


@pytest.mark.parametrize("name", ["reel-night", "lessons-and-songs"])
def test_page_and_command_agree(name: str, page: Page, tmp_path: Path) -> None:
    (show,) = [p for p in shows() if p.stem == name]
    table = Table.of(rig_at(show))
    load(page, table, tmp_path)
    given = [list(c.items()) for c in cases(table)]
    asked = [[["\n".join(s), v] for s, v in c] for c in given]
    answered = json.loads(json.dumps(page.evaluate(ASK, asked)))
    assert len(answered) == len(given)
    for answers, got in zip(given, answered, strict=True):
        assert got == python_says(table, dict(answers)), [(s, v) for s, v in answers if v]
