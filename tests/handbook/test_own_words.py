"""The handbook's own words type no figure: what a message says in numbers is what a constant with its source says."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from helpers.page_numbers import CITED, Corpus, tokens
from helpers.tools import ROOT
from rigbook.compute.standards import standards
from rigbook.handbook.words import CONNECTORS
from rigbook.walk.signals import BANDS, TONES_HZ
from rigbook.walk.step import START_DB

PACKAGE, THEMES = ROOT / "compiler" / "rigbook", ROOT / "themes"
ROOMS = ("handbook", "walk")
"""Formulas and assumptions of `compute` belong to their figures and are in the file of results."""
SAY = frozenset(("phrase", "counted", "say", "count"))
EXAMPLE = re.compile(r"`[^`]*`")
"""What is typed in a plan, given as an example."""
WHOLE = re.compile(r"\b0 dB|100 %|pins 2 and 3")
"""Nothing taken away, all of it, and the pins of XLR (IEC 61076-2-103, from memory): no figures."""


def messages() -> Iterator[tuple[str, str]]:
    """Every message of the package and the templates, with its file."""
    for path in sorted(p for room in ROOMS for p in (PACKAGE / room).rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call):
                name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
                texts = (a.value for a in node.args if isinstance(a, ast.Constant) and isinstance(a.value, str))
                yield from ((path.name, text) for text in texts if name in SAY)
    for path in sorted(THEMES.rglob("*.html")):
        yield from ((path.name, text) for text in _of_template(path))


def _of_template(path: Path) -> Iterator[str]:
    """Strings in calls of a template, and the text between its tags."""
    text = re.sub(r"\{#.*?#\}", "", path.read_text("utf-8"), flags=re.S)
    for call in re.findall(r"\{\{.*?\}\}|\{%.*?%\}", text, re.S):
        if re.search(r"\b_\(|gettext\(", call):
            yield from re.findall(r'"((?:[^"\\]|\\.)*)"', call)
    # the template's own tags first: one that stands within a tag of HTML may hold a `>`
    text = re.sub(r"\{%.*?%\}|\{\{.*?\}\}", "\0", text, flags=re.S)
    yield from re.split(r"\0|<style.*?</style>|<[^>]*>", text, flags=re.S)


def known() -> Corpus:
    """Figures with a source that is no plan."""
    corpus = Corpus()
    for _, figure in standards():
        corpus.number(figure.value, figure.unit)
        corpus.text(figure.text, figure.formula)
    corpus.number(START_DB, "dB")
    for hz in (*TONES_HZ, *(edge for band in BANDS.values() for edge in band)):
        corpus.number(hz, "Hz")
    corpus.text(*CONNECTORS)
    return corpus


def test_no_message_types_a_figure() -> None:
    corpus, lost = known(), []
    for file, text in messages():
        plain = text.replace("%%", "%").replace("–", " – ")
        for pattern in (CITED, EXAMPLE, WHOLE):
            plain = pattern.sub(" ", plain)
        plain = re.sub(r"(\d+) to (\d+) (\w+)", r"\1 \3 to \2 \3", plain)  # `40 to 100 Hz`
        lost += [f"{file}: {t.word} {t.unit} in “{text.strip()[:120]}”" for t in tokens(plain) if not corpus.holds(t)]
    assert not lost, "numbers typed in the handbook's own words:\n" + "\n".join(lost)


def test_many_messages_are_looked_at() -> None:
    found = list(messages())
    assert len([m for m in found if m[1].strip()]) > 800
    assert any("Mains power kills" in text for _, text in found)


def test_a_typed_figure_is_seen() -> None:
    corpus = known()
    assert [t.word for t in tokens("48 V and 12 V") if not corpus.holds(t)] == ["12"]
