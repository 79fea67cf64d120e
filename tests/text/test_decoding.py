"""Bytes to text: which encodings are refused, where the first wrong byte lies, and what is read on."""

from __future__ import annotations

import pytest

from rigbook.findings.place import Source
from rigbook.text.decoding import without_odd
from rigbook.text.limits import MAX_BYTES
from rigbook.text.yaml_reader import read_bytes


@pytest.mark.parametrize(
    "data",
    [b"a: \xc3\xa9\nb: 1\n", b"\xef\xbb\xbfa: \xc3\xa9\nb: 1\n", b"a: \xc3\xa9\r\nb: 1\r\n", b"a: \xc3\xa9\rb: 1\r"],
    ids=["plain", "byte order mark", "CRLF", "CR"],
)
def test_utf_8_with_any_line_ends(data: bytes) -> None:
    source, findings = read_bytes("a.yaml", data)
    assert (source.text, findings) == ("a: é\nb: 1\n", [])


@pytest.mark.parametrize(
    ("data", "line", "column", "message"),
    [
        (b"a: 1\nb: caf\xe9\n", 1, 6, "the byte 0xE9 is no UTF-8 (in Latin-1 it is `é`)"),
        (b"a: \xc3\xa9\r\nb: caf\xe9, \xe8\n", 1, 6, "the byte 0xE9 is no UTF-8 (in Latin-1 it is `é`), and one more"),
        (b"\xff\xfe" + "a: 1".encode("utf-16-le"), 0, 0, "the file is written in UTF-16, not in UTF-8"),
        (b"\xfe\xff" + "a: 1".encode("utf-16-be"), 0, 0, "the file is written in UTF-16, not in UTF-8"),
        (b"\x89PNG\r\n\x1a\n\x00", 0, 0, "this is no text file"),
        (b"a: \xe2\x82", 0, 3, "the byte 0xE2 is no UTF-8 (in Latin-1 it is `â`), and one more"),
    ],
)
def test_other_encodings(data: bytes, line: int, column: int, message: str) -> None:
    _, findings = read_bytes("a.yaml", data)
    assert [(f.check, f.message) for f in findings] == [("wrong-encoding", message)]
    assert findings[0].primary.span[1:3] == (line, column)
    assert findings[0].remedy


def test_a_wrong_encoding_is_read_on() -> None:
    """So that the other mistakes come in the same run."""
    assert read_bytes("a.yaml", b"a: caf\xe9\nb: \xc3\xa9\n")[0].text == "a: café\nb: é\n"
    assert read_bytes("a.yaml", "a: é\r\n".encode("utf-16"))[0].text == "a: é\n"


def test_a_large_file() -> None:
    source, findings = read_bytes("a.yaml", b"#" * (MAX_BYTES + 1))
    assert [f.message for f in findings] == ["the file holds 2 000 001 bytes, 2 000 000 are allowed"]
    assert not source.readable
    assert read_bytes("a.yaml", b"#" * MAX_BYTES)[1] == []


@pytest.mark.parametrize("odd", ["\x00", "\x07", "\x1b", "\x7f", "\x85", "\u2028", "\ufeff", "\ufffe", "\ud800"])
def test_odd_characters(odd: str) -> None:
    """Those that YAML 1.2.2 leaves out of c-printable (5.1), and line ends that no editor counts."""
    text, findings = without_odd(Source("a.yaml", f"a: 1\nb: x{odd}y{odd}\n"))
    assert text == "a: 1\nb: x y \n"
    assert [f.message for f in findings] == [
        f"a character that no text should hold stands here, U+{ord(odd):04X} (and 1 more like it)"
    ]
    assert findings[0].primary.span[1:] == (1, 4, 1, 5)


def test_letters_of_all_languages_stay() -> None:
    source = Source("a.yaml", "a: é ß 名 𝄞 ع\u200d\u00a0\tx\n")
    assert without_odd(source) == (source.text, [])
