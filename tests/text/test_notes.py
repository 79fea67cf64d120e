"""Notes: CommonMark as published, nothing that runs or loads, and each bad link at its place."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigbook.findings.finding import Finding
from rigbook.findings.place import Source, Span
from rigbook.text.notes import refused, render
from rigbook.text.tree import Mapping, Scalar
from rigbook.text.yaml_reader import read

WHERE = Span("a.yaml", 0, 0, 0, 1)


def pictures(path: str) -> str | None:
    return f"pictures/{path}" if path.startswith("img/") else None


def names(name: str) -> str | None:
    return "rack.html#amp-1" if name == "amp-1" else None


def html(text: str, top: int = 1) -> str:
    return render(text, WHERE, picture=pictures, link=names, top=top)[0]


# Source: CommonMark 0.31.2 (2024-01-28), examples by their numbers in the specification.
EXAMPLES = {
    1: ("\tfoo\tbaz\t\tbim\n", "<pre><code>foo\tbaz\t\tbim\n</code></pre>\n"),
    62: ("# foo\n## foo\n### foo\n#### foo\n##### foo\n###### foo\n",
         "<h1>foo</h1>\n<h2>foo</h2>\n<h3>foo</h3>\n<h4>foo</h4>\n<h5>foo</h5>\n<h6>foo</h6>\n"),
    98: ("---\n---\n", "<hr />\n<hr />\n"),
    254: ("1.  A paragraph\n    with two lines.\n\n        indented code\n\n    > A block quote.\n",
          "<ol>\n<li>\n<p>A paragraph\nwith two lines.</p>\n<pre><code>indented code\n</code></pre>\n<blockquote>\n"
          "<p>A block quote.</p>\n</blockquote>\n</li>\n</ol>\n"),
    312: ("- a\n - b\n  - c\n   - d\n    - e\n",
          "<ul>\n<li>a</li>\n<li>b</li>\n<li>c</li>\n<li>d\n- e</li>\n</ul>\n"),
    328: ("`foo`\n", "<p><code>foo</code></p>\n"),
    350: ("*foo bar*\n", "<p><em>foo bar</em></p>\n"),
    450: ("foo _*_\n", "<p>foo <em>*</em></p>\n"),
    502: ("[link](foo\\bar)\n", '<p><a href="foo%5Cbar">link</a></p>\n'),
    594: ("<http://foo.bar.baz>\n", '<p><a href="http://foo.bar.baz">http://foo.bar.baz</a></p>\n'),
    604: ("<foo@bar.example.com>\n", '<p><a href="mailto:foo@bar.example.com">foo@bar.example.com</a></p>\n'),
    633: ("foo  \nbaz\n", "<p>foo<br />\nbaz</p>\n"),
}  # fmt: skip


@pytest.mark.parametrize("number", EXAMPLES)
def test_commonmark(number: int) -> None:
    markdown, expected = EXAMPLES[number]
    assert html(markdown) == expected


def test_headings_begin_at_a_level() -> None:
    assert html("# a\n\nb\n===\n\n## c\n\n##### d\n", top=3) == "<h3>a</h3>\n<h3>b</h3>\n<h4>c</h4>\n<h6>d</h6>\n"


def test_tables_align_by_class() -> None:
    got = html("| a | b |\n|:--|--:|\n| 1 | 2 |\n")
    assert '<th class="align-left">a</th>\n<th class="align-right">b</th>' in got
    assert "style" not in got


def test_raw_html_is_text() -> None:
    assert html("a <b>b</b> <!-- c -->\n") == "<p>a &lt;b&gt;b&lt;/b&gt; &lt;!-- c --&gt;</p>\n"
    assert html("<script>alert(1)</script>\n") == "<p>&lt;script&gt;alert(1)&lt;/script&gt;</p>\n"


def test_names_of_the_plan() -> None:
    assert html("see [[amp-1]]") == '<p>see <a href="rack.html#amp-1">amp-1</a></p>\n'
    assert html("see [[amp-2]], `[[amp-1]]` and \\[[amp-1]]") == (
        "<p>see amp-2, <code>[[amp-1]]</code> and [[amp-1]]</p>\n"
    )
    # a link inside the words of a link: the inner one counts, as in CommonMark (6.3)
    assert html("[a [[amp-1]]](b.html)") == '<p>[a <a href="rack.html#amp-1">amp-1</a>](b.html)</p>\n'
    assert render("[[amp-1]]", WHERE, picture=pictures) == ("<p>[[amp-1]]</p>\n", [])


def test_pictures() -> None:
    assert html("![the rack](img/a.png)") == '<p><img src="pictures/img/a.png" alt="the rack" /></p>\n'
    assert html("![the rack](<img/a b.png>)") == '<p><img src="pictures/img/a b.png" alt="the rack" /></p>\n'
    assert html("![the [rack](javascript:x)](other.png)") == "<p>the rack</p>\n"


@pytest.mark.parametrize(
    "url",
    ["https://a.example/b?c=d", "http://a.example", "mailto:a@b.example", "tel:+390000", "rack.html", "rack.html#a",
     "#a", "../a/b.html", "?a:b", "a/b:c", ""],
)  # fmt: skip
def test_links_that_stay(url: str) -> None:
    assert refused(url) == ""


@pytest.mark.parametrize(
    "url",
    ["javascript:alert(1)", "JaVaScRiPt:alert(1)", " javascript:x", "java\nscript:x", "\x01javascript:x",
     "data:text/html,x", "vbscript:x", "file:///etc/passwd", "//host/x", "\\\\host\\x", "/\\host", "/etc", "%2F%2Fhost",
     "ftp://a.example", "blob:x", "javascript&colon;x:"],
)  # fmt: skip
def test_links_that_go(url: str) -> None:
    assert refused(url)


@pytest.mark.parametrize(
    "note",
    ["[a](javascript:x)", "[a](&#106;avascript:x)", "[a](javascript&#58;x)", "[a](\\javascript:x)", "<javascript:x>",
     "[a][1]\n\n[1]: javascript:x", "[a](data:text/html;base64,x)", "[a](<  javascript:x>)", "![a](javascript:x)",
     "[![a](img/a.png)](javascript:x)"],
)  # fmt: skip
def test_no_way_around(note: str) -> None:
    out, findings = render(note, WHERE, picture=pictures)
    assert [f.check for f in findings] == ["note-link-refused"]
    assert "href" not in out


PLAN = """\
text: |
  # Load-in

  Ask [the house](http://a.example), not [this](javascript:ask()).
  ![door](img/door.png) ![key](img2/key.png) ![far](https://a.example/x.png)

  - [[amp-1]] feeds [[amp-9]]
  - [[amp-9]] again, and [a file][f]

  [f]: file:///c
short: see [x](//host/y)
quoted: "see [[nobody]]"
folded: >
  one line
  [[someone]]
"""


def test_each_finding_points_at_its_link() -> None:
    source = Source("a.yaml", PLAN)
    tree, _ = read(source)
    assert isinstance(tree, Mapping)
    found: list[Finding] = []
    for note in tree.items.values():
        assert isinstance(note, Scalar)
        found += render(note.text, note.span, picture=pictures, link=names, source=source)[1]
    assert [(f.check, f.primary.span.line, shown(source, f.primary.span)) for f in found] == [
        ("note-link-refused", 3, "javascript:ask()"),
        ("missing-picture", 4, "img2/key.png"),
        ("note-link-refused", 4, "https://a.example/x.png"),
        ("broken-link", 6, "[[amp-9]]"),
        ("broken-link", 7, "[[amp-9]]"),
        ("note-link-refused", 9, "file:///c"),
        ("note-link-refused", 10, "//host/y"),
        ("broken-link", 11, "[[nobody]]"),
        ("broken-link", 14, "[[someone]]"),
    ]
    assert [f.message for f in found][:4] == [
        "`javascript:` is not allowed in a link",
        "there is no picture `img2/key.png`",
        "the picture `https://a.example/x.png` does not lie in the repository",
        "nothing in the plan is called `amp-9`",
    ]


def test_without_the_file_the_whole_note_is_the_place() -> None:
    span = Span("a.yaml", 4, 2, 6, 9)
    assert render("a\n[[b]]\n", span, picture=pictures, link=names)[1][0].primary.span == span


def shown(source: Source, span: Span) -> str:
    return source.lines[span.line][span.column : span.end_column]


class Tags(HTMLParser):
    """Collects every tag with its attributes."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[tuple[str, dict[str, str | None]]] = []
        self.links = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))
        self.links += tag == "a"
        assert self.links < 2, "a link in a link"

    def handle_endtag(self, tag: str) -> None:
        self.links -= tag == "a"


ALLOWED = {"p", "h1", "h2", "h3", "h4", "h5", "h6", "a", "em", "strong", "code", "pre", "ul", "ol", "li", "hr", "br",
           "blockquote", "img", "table", "thead", "tbody", "tr", "th", "td"}  # fmt: skip
MARKDOWN = st.lists(
    st.sampled_from(["[a](", "javascript:", "data:x", "&#106;", "&colon;", ")", "<", ">", "![", "](", "\n", "\n\n", "`",
                     "*", "_", "[[", "]]", "amp-1", "//host", "<script>", "onerror=x", '"', "'", " ", "\\", "https://a.example",
                     "- ", "> ", "# ", "|a|b|\n|-|-:|\n", "```x y\n", "[1]: ", "%6A", "\t", "\x00", "é"])
    | st.text(max_size=4),
    max_size=25,
).map("".join)  # fmt: skip


@settings(max_examples=400, deadline=None)
@given(MARKDOWN)
def test_no_note_makes_a_page_run_or_load(note: str) -> None:
    out, findings = render(note, WHERE, picture=lambda p: "pictures/x.png", link=names)
    tags = Tags()
    tags.feed(out)
    for tag, attributes in tags.seen:
        assert tag in ALLOWED
        assert set(attributes) <= {"href", "title", "src", "alt", "class", "start"}
        href = attributes.get("href") or ""
        assert re.match(r"(https?:|mailto:|tel:)", href, re.IGNORECASE) or not re.match(r"\s*([^/?#]*:|[/\\])", href)
        assert attributes.get("src", "pictures/x.png") == "pictures/x.png"
    for finding in findings:
        assert finding.remedy
