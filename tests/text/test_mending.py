"""One mistake put into a good plan gives one finding, on its line, and the rest of the plan is read as before."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from rigbook.findings.place import Source
from rigbook.text.limits import MAX_REPAIRS
from rigbook.text.tree import Broken, Mapping
from rigbook.text.yaml_reader import read

PLAN = """\
plan: 1
show: "Lantern supper"
date: 2027-02-06

inputs:
  1: {name: Fiddle, from: box/in 1, mic: clip-condenser, phantom: on, to: [main, mix-1 -6 dB]}
  2:
    name: 'Upright'
    from: box/in 2
    to: [main, subs -3 dB]
    text: |
      Ask the player first.

      The strap: on the left.
  3: {name: "Playback", stereo: yes, to: [main, subs]}

outputs:
  main left: box/out 11
  main right: box/out 12

wiring:
  xlr:
    - box/out 11 -> amp-mains/in A
    - box/out 12 -> amp-mains/in B, 18 m
  speaker 2.5 mm2:
    - amp-mains/out A -> top-left, 18 m
    - from: amp-subs/out B
      to: sub-right
      length: 12 m
units:
  amp-mains:
    kind: amplifier
    in: rack-1
"""
LINES = PLAN.split("\n")
NOTE = (11, 13)
"""Lines of a text, in which nothing is a mistake."""


def swap(pattern: str, new: str) -> Callable[[str], str]:
    return lambda line: re.sub(pattern, new, line, count=1)


MISTAKES = {
    "no space after a colon": swap(r"^(\s*(?:- )?[\w -]+): (?=\S)", r"\1:"),
    "no colon": swap(r"^(\s*(?:- )?[\w .-]+):(?= |$)", r"\1"),
    "no closing quote": swap(r"""(?<=\w)["'](?=[,\s]|$)""", ""),
    "no closing bracket": swap(r"[\]}]$", ""),
    "no inner bracket": swap(r"\](?=})", ""),
    "a tab for two spaces": lambda line: re.sub(r"^ +", lambda m: "\t" * (len(m.group()) // 2), line),
    "one space more": lambda line: f" {line}" if line.strip() else line,
    "one space less": swap("^ ", ""),
    "a second colon": swap(r"^(\s*(?:- )?[\w .-]+: )(?=\w)", r"\1see: "),
    "an at sign": swap(r"^(\s*(?:- )?[\w .-]+: )(?=\w)", r"\1@"),
    "an asterisk": swap(r"^(\s*(?:- )?[\w .-]+: )(?=\w)", r"\1*"),
    "a percent sign": swap(r"^(\s*(?:- )?[\w .-]+: )(?=\w)", r"\1%"),
    "no comma": swap(r"(?<=\w), (?=\w+:)", " "),
    "no space after a dash": swap(r"(?<=  )- (?=\w)", "-"),
    "text after a text sign": swap(r"\|$", "| now"),
    "a bracket too many": swap(r"\]$", "]]"),
}

# What YAML takes as right, or what is one line off: a single child may have any indentation, and a list whose first
# item is off is complained of at the second, for both may be meant.
OTHERWISE = {
    ("one space more", 30): None,
    ("one space less", 30): None,
    ("one space less", 22): 23,
}


def _cases() -> list[tuple[str, int]]:
    numbers = [i for i in range(len(LINES)) if i not in NOTE]
    return [(name, i) for name, mistake in MISTAKES.items() for i in numbers if mistake(LINES[i]) != LINES[i]]


@pytest.mark.parametrize(("name", "line"), _cases())
def test_one_mistake_is_one_finding(name: str, line: int) -> None:
    lines = [*LINES[:line], MISTAKES[name](LINES[line]), *LINES[line + 1 :]]
    node, findings = read(Source("a.yaml", "\n".join(lines)))
    place = OTHERWISE.get((name, line), line)
    assert [f.primary.span.line for f in findings] == ([] if place is None else [place])
    good, _ = read(Source("a.yaml", PLAN))
    assert isinstance(node, Mapping)
    assert isinstance(good, Mapping)
    missing = [key for key in good.items if key not in node.items]
    assert missing == [] or (missing == [re.split("[ :]", LINES[line])[0]] and node.partial)
    kept = [key for key in good.items if good.keys[key].line > line and key in node.items]
    assert [node.items[key] for key in kept] == [good.items[key] for key in kept]


def test_a_moved_line_keeps_its_own_places() -> None:
    node, findings = read(Source("a.yaml", "a:\n  b: 1\n   c: 2\n"))
    assert len(findings) == 1
    assert isinstance(node, Mapping)
    group = node.items["a"]
    assert isinstance(group, Mapping)
    assert group.keys["c"][1:] == (2, 3, 2, 4)
    assert group.items["c"].span[1:] == (2, 6, 2, 7)


def test_a_finding_in_a_moved_line_has_its_own_place() -> None:
    _, findings = read(Source("a.yaml", "a:\n  b: 1\n   b: 2\n"))
    assert [(f.check, f.primary.span[1:]) for f in findings] == [
        ("yaml-syntax", (2, 0, 2, 3)),
        ("duplicate-key", (2, 3, 2, 4)),
    ]


def test_many_mistakes_end_somewhere() -> None:
    node, findings = read(Source("a.yaml", "".join(f"k{i}: a: b\n" for i in range(MAX_REPAIRS + 5))))
    assert isinstance(node, Broken)
    assert len(findings) == MAX_REPAIRS + 1
    assert findings[-1].message == "too many mistakes of form; nothing is read from here on"
