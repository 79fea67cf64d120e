"""The schema never refuses what the reader takes: texts made from the keys' own examples, and whole plans."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from helpers.check_pages import PLAN as PLAN_FILE
from helpers.check_pages import cases, split
from helpers.editors import as_editor
from rigbook.commands import new
from rigbook.findings.place import Source, Span
from rigbook.language.groups import ListOf, MapOf
from rigbook.language.keys.plan import LANGUAGE_VERSION, PLAN
from rigbook.language.read import read_plan
from rigbook.language.reading import Grammar, Naming, Reading
from rigbook.language.schema import schema
from rigbook.language.shape import Shape
from rigbook.language.values.positions import DIRECTIONS
from rigbook.language.values.racks import FILLERS
from rigbook.text.tree import Scalar
from rigbook.text.yaml_reader import read
from rigbook.units.dimension import SPELLINGS

jsonschema = pytest.importorskip("jsonschema")
ROOT = Path(__file__).parents[2]
EXAMPLES = int(os.environ.get("RIGBOOK_EXAMPLES", "60"))
"""Texts of each kind; many more were tried once, see below."""


def single_values(value: Grammar, example: str, found: dict[Grammar, set[str]]) -> None:
    """Every grammar of a single value below one, with the examples of the keys that have it."""
    match value:
        case Shape():
            for key in value.keys:
                single_values(key.value, key.example, found)
        case MapOf():
            single_values(value.value, "", found)
        case ListOf():
            single_values(value.item, example.strip("[]"), found)
        case _ if value is not LANGUAGE_VERSION:  # which versions there are, `read_plan` says
            # amounts of one dimension are read alike, whatever their example
            same = next((v for v in found if alike(v) == alike(value)), value)
            words = re.findall("`([^`]+)`", value.words)
            found.setdefault(same, set()).update(words, {example} if example and "{" not in example else ())


def alike(value: Grammar) -> tuple[type, object]:
    return type(value), getattr(value, "dimension", value)


def namings(value: Grammar) -> Iterator[Naming]:
    """Every way to name things below a grammar."""
    match value:
        case Shape():
            for key in value.keys:
                yield from namings(key.value)
        case MapOf():
            if value.names:
                yield value.names
            yield from namings(value.value)
        case ListOf():
            yield from namings(value.item)


def _grammars() -> dict[Grammar, set[str]]:
    found: dict[Grammar, set[str]] = {}
    single_values(PLAN, "", found)
    return found


GRAMMARS = _grammars()
NAMINGS = tuple(dict.fromkeys(namings(PLAN)))
NAMES = ("main", "main left", "a, b", "7", "18:30", "Harp moves", "place", "amp-tops", "in 1-8")
NUMBERS = ("0", "-0", "00", "1", "2", "3", "6", "12", "24", "48", "0.5", ".5", "5.", "-6", "+4", "−3", "1,5", "90", "٣",
           "4/0", "40", "41", "1e3", "31", "02", "2027", "9999999", "123456", "-273",
           "0.0", "-.0")
SIGNS = (" ", "  ", "\t", "\u00a0", ",", ", ", "-", " - ", " to ", "–", " – ", "->", " -> ", "/", ":", "x", " x ", "×",
         "+", ".", "°", "²", "\n", "", "K", "A", "é")
WORDS = (*SPELLINGS, *DIRECTIONS, *FILLERS, "lr", "LR", "bw", "Bessel", "butterworth", "label", "label T1", "adaptor",
         "split", "post", "pre", "off", "at", "level", "out", "mono", "main", "box", "box/in 1", "a.b", "yes", "YES",
         "True", "A4", "letter", "null", "~", "true", "U", "https://example.org", "AWG", "Hz", "dB", "B")
TOKEN = re.compile(r"[-+]?[0-9.]+|\s+|[A-Za-z/%°²]+|.", re.DOTALL)


@st.composite
def near(draw: st.DrawFn, examples: tuple[str, ...]) -> str:
    """One of the texts with a few of its words, numbers and signs changed for others, or words at random."""
    tokens = TOKEN.findall(draw(st.sampled_from(examples)))
    if draw(st.integers(0, 9)) == 0:
        tokens = draw(st.lists(st.sampled_from((*NUMBERS, *SIGNS, *WORDS)), max_size=6))
    for _ in range(draw(st.integers(0, 3))):
        at = draw(st.integers(0, max(len(tokens) - 1, 0)))
        old = tokens[at] if tokens else ""
        like = NUMBERS if re.match(r"[-+.]?[0-9]", old) else WORDS if old.isalpha() else SIGNS
        new = draw(st.one_of(st.sampled_from(like), st.sampled_from((*NUMBERS, *SIGNS, *WORDS))))
        how = draw(st.sampled_from(("change", "before", "leave out", "again")))
        tokens[at : at + (how != "before")] = {"leave out": [], "again": [old, " ", old]}.get(how, [new])
    return "".join(tokens)


@cache
def validator(grammar: Grammar) -> Any:
    definition = getattr(grammar, "definition", grammar.schema)
    return jsonschema.Draft202012Validator(definition())


def taken(grammar: Grammar, text: str) -> bool:
    reading = Reading()
    grammar.read(Scalar(text, Span("p.yaml", 0, 0, 0, len(text)), plain=True), reading)
    return not reading.findings


def as_seen(text: str) -> list[Any]:
    """What an editor takes it for: in quotes the text, without them what YAML makes of it (null wants quotes)."""
    seen: list[Any] = [text]
    try:
        plain = as_editor(text)
    except (yaml.YAMLError, ValueError, OverflowError):
        return seen
    return seen if plain is None or isinstance(plain, dict | list) or plain == text else [*seen, plain]


def pair(grammar: Grammar) -> str:
    return grammar.words[:40]


@pytest.mark.parametrize("grammar", GRAMMARS, ids=pair)
def test_a_value_that_is_read_is_in_the_schema(grammar: Grammar) -> None:
    examples = tuple(sorted(GRAMMARS[grammar])) or NAMES
    count = 0

    @settings(max_examples=EXAMPLES, deadline=None, database=None)
    @given(text=near(examples))
    def run(text: str) -> None:
        nonlocal count
        if taken(grammar, text):
            count += 1
            for seen in as_seen(text):
                wrong = [e.message for e in validator(grammar).iter_errors(seen)]
                assert not wrong, f"read, and not in the schema: {text!r} as {seen!r}"

    run()
    print(f"{pair(grammar)}: {count} of {EXAMPLES} texts were read")


@pytest.mark.parametrize("naming", NAMINGS, ids=lambda n: n.pattern[:40])
@settings(max_examples=EXAMPLES, deadline=None, database=None)
@given(text=near(NAMES))
def test_a_name_that_is_read_is_in_the_schema(naming: Naming, text: str) -> None:
    if naming.problem(text) is None:
        assert jsonschema.Draft202012Validator(naming.schema()).is_valid(text), f"{text!r} is read"


def wrong_in(text: str) -> list[str]:
    """What the schema says of a plan as an editor sees it."""
    return [e.message for e in jsonschema.Draft202012Validator(schema()).iter_errors(as_editor(text))]


def read_well(text: str) -> bool:
    node, wrong = read(Source("plan.yaml", text))
    return not wrong and not read_plan(node)[1]


@pytest.mark.parametrize("folder", ["shows", "compiler/rigbook/gear"])
def test_plans_of_the_tree(folder: str) -> None:
    paths = [p for p in sorted((ROOT / folder).rglob("*.yaml")) if p.name != "theme.yaml"]
    assert len(paths) > 5
    for path in paths:
        text = path.read_text("utf-8")
        assert read_well(text) and wrong_in(text) == [], path.name


def test_plans_of_the_pages_of_checks() -> None:
    """Those without a mistake that the reader sees."""
    count = 0
    for page in sorted((ROOT / "tests" / "checks").glob("*/*.md")):
        for case in cases(page.read_text("utf-8")):
            text = split(case.text)[0][PLAN_FILE]
            if read_well(text):
                count += 1
                assert wrong_in(text) == [], page.name
    assert count > 200


def test_the_plan_of_new() -> None:
    assert read_well(new.PLAN) and wrong_in(new.PLAN) == []
