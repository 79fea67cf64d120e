"""A tree to the record of a plan: the one entrance of the language."""

from __future__ import annotations

import re

from rigbook.findings.finding import Finding, Label
from rigbook.language.keys.plan import PLAN, VERSION
from rigbook.language.reading import Reading
from rigbook.language.record import Record
from rigbook.records import replace
from rigbook.text.phrase import phrase
from rigbook.text.tree import Mapping, Node, Scalar

SHOWN = 6
"""Further places of one misspelt name that are shown."""


def read_plan(node: Node) -> tuple[Record, list[Finding]]:
    """Read the tree of one file. Always gives a record: empty where nothing could be read."""
    reading = Reading()
    if not isinstance(node, Mapping):
        # the text room has said what is wrong with a file that is no group of keys
        return Record(PLAN.name, node.span, {}, {}), reading.findings
    _version(node, reading)
    got = PLAN.read(node, reading)
    assert isinstance(got, Record), "a group of keys always reads as a record"
    return got, _at_once(reading.findings)


def _at_once(findings: list[Finding]) -> list[Finding]:
    """The same name misspelt in many places is one mistake."""
    out: dict[object, Finding] = {}
    for number, f in enumerate(findings):
        key = f.message if "cannot be a name" in f.message else number
        first = out.get(key)
        if first is None:
            out[key] = f
        elif len(first.secondary) < SHOWN:
            out[key] = replace(first, secondary=(*first.secondary, Label(f.primary.span, phrase("and here"))))
    return list(out.values())


def _version(node: Mapping, reading: Reading) -> None:
    value = node.items.get("plan")
    if isinstance(value, Scalar) and re.fullmatch(r"[0-9]{1,6}", value.text) and not 1 <= int(value.text) <= VERSION:
        reading.fault(
            "language-version",
            value.span,
            phrase(
                "this plan is written in language version %(value)s, this rigbook reads version %(known)s",
                value=value.text,
                known=VERSION,
            ),
            phrase("write `plan: %(known)s` if nothing newer is used, or take a newer rigbook", known=VERSION),
        )
