"""The Checks page of a broken plan in other languages: no finding, and no title of a check, is left in English.

Each check's own *Fails* example is built, in German, in French, and in the mirror, in which whatever was not given to
the language stands out.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from helpers import mirror_text
from helpers.check_pages import compile_text
from rigbook.checks.catalogue import GROUPS, explain, names
from rigbook.findings.finding import Finding
from rigbook.handbook import mirror
from rigbook.handbook.book import Book
from rigbook.handbook.make import make
from rigbook.handbook.pages import checks
from rigbook.handbook.render import render
from rigbook.handbook.site import site_of
from rigbook.handbook.themes import find_theme
from rigbook.handbook.tongue import Tongue
from rigbook.handbook.tongues import tongue
from rigbook.pipeline import Compiled

IN_PLANS = [group for group in GROUPS if group != "themes"]
"""Groups of checks whose examples are plans."""


def fails(group: str, folder: Path) -> Iterator[tuple[str, Compiled]]:
    """The checks of a group, each with its compiled example of what it finds."""
    for name, own in names().items():
        if own == group:
            yield name, compile_text(explain(name).part("Fails"), folder / name)


def said_of(finding: Finding) -> Iterator[str]:
    """The texts of a finding."""
    yield from (finding.message, finding.effect, finding.remedy)
    yield from (label.text for label in (finding.primary, *finding.secondary))


def sentence(text: str) -> bool:
    """True where a text is more than names: words beside what stands between backticks."""
    return bool(re.search(r"[A-Za-z]{2}\W+[A-Za-z]{2}", re.sub(r"`[^`]*`", "", text)))


def checks_page(compiled: Compiled, spoken: Tongue) -> str:
    """The Checks page as HTML."""
    book = Book.of(compiled, "crew", spoken)
    page = checks.page(book)
    assert page is not None
    html = render((page,), book, site_of(book, (page,)), find_theme("plain"))["checks.html"].decode()
    # the explanations of the checks are English; they say some of the same
    return html.partition('<h2 id="explained">')[0]


@pytest.mark.parametrize("group", IN_PLANS)
def test_no_finding_stays_english(group: str, tmp_path: Path) -> None:
    left = []
    for name, compiled in fails(group, tmp_path):
        # a file that is too large to be read makes no page
        pages = {c: checks_page(compiled, tongue(c)) if compiled.plan else "" for c in ("de", "fr")}
        for text in {t for f in compiled.findings for t in said_of(f) if sentence(t)}:
            for code, page in pages.items():
                if tongue(code).words(text) == text or re.sub(r"`([^`]*)`", r"<code>\1</code>", text) in page:
                    left.append(f"{code}: {name}: {text}")
    assert not left, "\n".join(left)


@pytest.mark.parametrize("group", IN_PLANS)
def test_every_word_of_a_finding_is_given_to_the_language(group: str, tmp_path: Path) -> None:
    left = []
    for name, compiled in fails(group, tmp_path):
        if compiled.plan is None:
            continue
        typed = (part for file, source in compiled.sources.items() for part in (file, source.text))
        known = mirror_text.corpus([*typed, *names(), *compiled.plan.kinds, "FEFF"])
        html = checks_page(compiled, tongue(mirror.LANGUAGE))
        left += [f"{name}: {text}" for _, text in mirror_text.strange(html, known, compiled.plan.units)]
    assert not left, "\n".join(left)


@pytest.mark.parametrize("language", ["de", "fr"])
def test_titles_of_checks_are_said_in_the_language(language: str) -> None:
    titles = {name: explain(name).title for name in names()}
    spoken = tongue(language)
    assert [t for t in titles.values() if spoken.one(t) == t] == []


def test_severities_and_groups_are_said_in_the_language(tmp_path: Path) -> None:
    (_, compiled), *_ = fails("power", tmp_path)
    page = make(compiled, "crew", find_theme("plain"), "de")["checks.html"].decode()
    assert "Warnung" in page
    assert "<dt>Lautsprecher</dt>" in page
    assert "Was sie findet" in page
