"""A file to its tree: places, untouched scalars, limits, and no text that makes it raise."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from rigbook.findings.place import Source, Span
from rigbook.text import limits
from rigbook.text.tree import Broken, Listing, Mapping, Node, Scalar
from rigbook.text.yaml_reader import read, read_bytes

PLAN = """\
plan: 1
show: "Lantern supper"
on: off
1: {name: Fiddle, from: box/in 1, phantom: on, to: [main, mix-1 -6 dB]}
wiring:
  xlr:
    - box/out 1 -> amp/in A
    - amp/out A -> top : 18 m
text: |
  First line,

  third line.

empty:
folded: long
  text
end: 1:30
"""


def tree(text: str) -> Mapping:
    node, findings = read(Source("a.yaml", text))
    assert findings == []
    assert isinstance(node, Mapping)
    return node


def simple(node: Node) -> object:
    """The tree as plain Python values."""
    match node:
        case Mapping():
            return {key: simple(value) for key, value in node.items.items()}
        case Listing():
            return [simple(value) for value in node.items]
        case Scalar():
            return node.text
    return None


def checks(text: str) -> list[str]:
    return [f.check for f in read(Source("a.yaml", text))[1]]


def test_scalars_stay_as_typed() -> None:
    """`on`, `off`, `no`, `1:30`, `012` and the like keep their letters (language, test 6)."""
    words = ["on", "off", "no", "yes", "1:30", "012", "0x1F", "1e3", "~", "null", "true", "2027-02-06", "1_000", ".5"]
    assert simple(tree("a: [" + ", ".join(words) + "]\n")) == {"a": words}


def test_a_wire_with_a_colon_passes_through() -> None:
    wires = tree(PLAN).items["wiring"]
    assert simple(wires) == {"xlr": ["box/out 1 -> amp/in A", {"amp/out A -> top": "18 m"}]}


def test_same_values_as_the_library_reads() -> None:
    """Oracle: PyYAML's own loader without a resolver (every scalar a string)."""
    assert simple(tree(PLAN)) == yaml.load(PLAN, Loader=yaml.BaseLoader)


@pytest.mark.parametrize(
    ("path", "shown"),
    [
        (("show",), '"Lantern supper"'),
        (("on",), "off"),
        (("1",), "{name: Fiddle, from: box/in 1, phantom: on, to: [main, mix-1 -6 dB]}"),
        (("1", "to"), "[main, mix-1 -6 dB]"),
        (("1", "to", 1), "mix-1 -6 dB"),
        (("wiring", "xlr", 1, "amp/out A -> top"), "18 m"),
        (("wiring",), "xlr:\n    - box/out 1 -> amp/in A\n    - amp/out A -> top : 18 m"),
        (("text",), "|\n  First line,\n\n  third line."),
        (("empty",), ""),
        (("folded",), "long\n  text"),
        (("end",), "1:30"),
    ],
)
def test_places(path: tuple[str | int, ...], shown: str) -> None:
    node: Node = tree(PLAN)
    for step in path:
        node = node.items[step]  # type: ignore[union-attr, index]
    assert cut(PLAN, node.span) == shown


def test_places_of_keys() -> None:
    top = tree(PLAN)
    assert [cut(PLAN, span) for span in top.keys.values()] == list(top.items)
    assert top.span == Span("a.yaml", 0, 0, 16, 9)


def test_kinds_of_scalars() -> None:
    top = tree("a: b\nc: 'd'\ne: \"f\"\ng: |\n  h\ni: >\n  j\n  k\n")
    kinds = {key: (value.text, value.plain, value.block) for key, value in top.items.items()}  # type: ignore[union-attr]
    assert kinds == {
        "a": ("b", True, False),
        "c": ("d", False, False),
        "e": ("f", False, False),
        "g": ("h\n", False, True),
        "i": ("j k\n", False, True),
    }


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment\n", "---\n", "--- \n...\n"])
def test_an_empty_file_is_an_empty_group(text: str) -> None:
    assert simple(tree(text)) == {}


def test_wide_letters_count_as_one_column() -> None:
    top = tree("a: {名前: 𝄞, b: c}\n")
    assert top.items["a"].items["b"].span == Span("a.yaml", 0, 14, 0, 15)  # type: ignore[union-attr, call-overload]


def test_too_many_values() -> None:
    text = "a:\n" + "  - x\n" * (limits.MAX_NODES + 1)
    node, findings = read(Source("a.yaml", text))
    assert isinstance(node, Broken)
    assert [f.message for f in findings] == ["the file holds more than 200000 values"]


def test_too_deep_leaves_the_rest() -> None:
    deep = "[" * (limits.MAX_DEPTH + 3) + "]" * (limits.MAX_DEPTH + 3)
    node, findings = read(Source("a.yaml", f"a: {deep}\nb: c\n"))
    assert [f.check for f in findings] == ["too-deep"]
    assert isinstance(node, Mapping)
    assert simple(node.items["b"]) == "c"
    assert simple(tree("a: " + "[" * (limits.MAX_DEPTH - 1) + "]" * (limits.MAX_DEPTH - 1)))


@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ("a: " + "[" * 5000 + "]" * 5000, 0, 3 + limits.MAX_DEPTH),
        ("a: " + "[" * 5000, 0, 3 + limits.MAX_DEPTH),
        ("a: " + "{x: " * 2000 + "}" * 2000, 0, 3 + 4 * limits.MAX_DEPTH),
        ("a:\n" + "".join(f"{' ' * i}x:\n" for i in range(1, 1200)), limits.MAX_DEPTH, limits.MAX_DEPTH),
        ("a: [\n" + "".join(f"{' ' * i}[\n" for i in range(1, 1200)), 0, 3),
    ],
    ids=["closed", "open", "groups", "lines", "brackets on lines"],
)
def test_what_lies_too_deep_is_no_bracket_that_is_never_closed(text: str, line: int, column: int) -> None:
    node, findings = read(Source("a.yaml", f"{text}\nb: c\n"))
    assert [(f.check, f.primary.span.line, f.primary.span.column) for f in findings] == [("too-deep", line, column)]
    assert isinstance(node, Mapping) and simple(node.items["b"]) == "c"


def test_a_long_key() -> None:
    assert checks("x" * limits.MAX_KEY + ": 1\n") == []
    assert checks("x" * (limits.MAX_KEY + 1) + ": 1\n") == ["odd-key"]
    assert checks("? |\n  a\n  b\n: 1\n") == ["odd-key"]


def test_a_doubled_key_keeps_the_first_value() -> None:
    node, _ = read(Source("a.yaml", "a: 1\nb: 2\na: 3\n"))
    assert simple(node) == {"a": "1", "b": "2"}
    assert isinstance(node, Mapping)
    assert not node.partial


def test_an_anchor_bomb_stays_small() -> None:
    """Ten levels of ten references each would be ten thousand million values."""
    lines = ["a0: &a0 [x]"] + [f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 10)}]" for i in range(1, 10)]
    node, findings = read(Source("a.yaml", "\n".join(lines)))
    assert [(f.check, f.primary.span.line, len(f.secondary)) for f in findings] == [("anchor-used", 0, 6)]
    assert isinstance(node, Mapping)
    assert len(node.items) == 10


def test_what_is_broken_is_marked() -> None:
    node, _ = read(Source("a.yaml", "a:\n  b: [1\n  c: 2\nd\ne:\n  f: 1\n"))
    assert isinstance(node, Mapping)
    assert simple(node) == {"a": {"b": None, "c": "2"}, "e": {"f": "1"}}
    assert isinstance(node.items["a"].items["b"], Broken)  # type: ignore[union-attr, call-overload]
    assert node.partial  # the line `d` may have been any key
    assert not node.items["a"].partial  # type: ignore[union-attr]


def test_an_unreadable_file_says_nothing_more() -> None:
    source, first = read_bytes("a.png", b"\x89PNG\r\n\x1a\n\x00\x00")
    node, more = read(source)
    assert [f.check for f in first] == ["wrong-encoding"]
    assert isinstance(node, Broken)
    assert more == []


def test_the_pure_parser_finds_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where PyYAML was built without libyaml, its Python parser is used."""
    fast = read(Source("a.yaml", PLAN))
    monkeypatch.setattr(yaml, "__with_libyaml__", False)
    assert read(Source("a.yaml", PLAN)) == fast
    assert checks("show:Lantern\na: 'b\nc: 1\n") == ["yaml-syntax", "yaml-syntax"]


YAMLISH = st.text(
    st.sampled_from(list("ab01 \n\n  :-'\"[]{},#&*!|>%@`\t?\\.<é\x00\r\u2028\ufeff𝄞"))
    | st.characters(exclude_categories=()),
    max_size=120,
)
LINES = st.lists(
    st.sampled_from(["a: b", "  c: d", "- e", "    - f: g", "h: [i, j", "  k}", "l: 'm", "n: |", "\to: p", "q", "---",
                     "? r", ": s", "&t u: *t", "v: !w x", "", "  # y", "a: {b:c}", " z: 1", "%A", "...", "<<: *t"]),
    max_size=14,
).map("\n".join)  # fmt: skip


@settings(max_examples=400, deadline=None)
@given(YAMLISH | LINES)
def test_never_raises_and_places_lie_inside(text: str) -> None:
    assert_inside(Source("a.yaml", text))


@settings(max_examples=200, deadline=None)
@given(
    st.binary(max_size=200)
    | LINES.map(lambda text: text.encode("utf-16"))
    | YAMLISH.map(lambda t: t.encode("utf-8", "surrogatepass"))
)
def test_never_raises_for_any_bytes(data: bytes) -> None:
    source, findings = read_bytes("a.yaml", data)
    for finding in findings:
        assert_span(source, finding.primary.span)
    assert_inside(source)


def assert_inside(source: Source) -> None:
    node, findings = read(source)
    for span in (*spans(node), *(label.span for f in findings for label in (f.primary, *f.secondary))):
        assert_span(source, span)
    for finding in findings:
        assert finding.message
        assert finding.remedy


def assert_span(source: Source, span: Span) -> None:
    assert 0 <= span.line <= span.end_line < len(source.lines)
    assert (span.line, span.column) <= (span.end_line, span.end_column)
    if source.readable:
        assert span.column <= len(source.lines[span.line])
        assert span.end_column <= len(source.lines[span.end_line]) + (span.column == len(source.lines[span.line]))


def spans(node: Node) -> Iterator[Span]:
    yield node.span
    if isinstance(node, Mapping):
        yield from node.keys.values()
        for value in node.items.values():
            yield from spans(value)
    elif isinstance(node, Listing):
        for value in node.items:
            yield from spans(value)


def cut(text: str, span: Span) -> str:
    """The text of a place."""
    lines = text.split("\n")[span.line : span.end_line + 1]
    lines[-1] = lines[-1][: span.end_column]
    lines[0] = lines[0][span.column :]
    return "\n".join(lines)
