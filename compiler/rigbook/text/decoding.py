"""Bytes to text: UTF-8 only, with words for every other case."""

from __future__ import annotations

import re

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Source, Span
from rigbook.text.limits import MAX_BYTES
from rigbook.text.phrase import phrase

_UTF_16 = ((b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be"))
_SAVE = phrase("save the file as UTF-8 (most editors: save with encoding)")

# What YAML 1.2.2 (5.1, c-printable) leaves out, and line ends that only YAML 1.1 counts as such: with them, the
# parser's line numbers would not be an editor's.
# Signs that turn the writing direction around (Unicode Standard Annex 9: embeddings and overrides) let a line read as
# another than it is.
_ODD = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028-\u202e\ufeff\ufffe\uffff\ud800-\udfff]")


def decode(file: str, data: bytes, whole: int = 0) -> tuple[Source, list[Finding]]:
    """A file's text with plain line ends. What is no text at all comes back as an unreadable `Source`.

    `whole` is how many bytes the file holds, where not all of them were read.
    """
    if len(data) > MAX_BYTES:
        fix = phrase("split it into several files that build on one another, and keep pictures in files of their own")
        size, most = (f"{n:,}".replace(",", " ") for n in (max(len(data), whole), MAX_BYTES))
        message = phrase("the file holds %(size)s bytes, %(most)s are allowed", size=size, most=most)
        return _unreadable(file, "too-large", message, fix)
    for mark, codec in _UTF_16:
        if data.startswith(mark):
            text = data[2:].decode(codec, "replace")
            return _source(file, text), [
                _finding(file, 0, 0, phrase("the file is written in UTF-16, not in UTF-8"), _SAVE)
            ]
    try:
        return _source(file, data.decode("utf-8-sig")), []
    except UnicodeDecodeError:
        if b"\0" in data:
            return _unreadable(
                file, "wrong-encoding", phrase("this is no text file"), phrase("name a plan file, written in UTF-8")
            )
        return _wrong_bytes(file, data)


def without_odd(source: Source) -> tuple[str, list[Finding]]:
    """The text for the parser, with a blank for every character that YAML does not know; places stay."""
    found = list(_ODD.finditer(source.text))
    if not found:
        return source.text, []
    line, column = _place(source.text[: found[0].start()])
    finding = odd_letter(Span(source.file, line, column, line, column + 1), [m.group() for m in found])
    return _ODD.sub(" ", source.text), [finding]


def escaped_odd(text: str, span: Span) -> tuple[str, Finding | None]:
    """A text between double quotes, where escapes may write such characters: without them."""
    found: list[str] = _ODD.findall(text)
    return (_ODD.sub(" ", text), odd_letter(span, found)) if found else (text, None)


def odd_letter(span: Span, found: list[str]) -> Finding:
    """What is said of characters that no text should hold."""
    more = phrase(" (and %(count)s more like it)", count=len(found) - 1) if len(found) > 1 else ""
    message = phrase(
        "a character that no text should hold stands here, U+%(code)s%(more)s",
        code=f"{ord(found[0]):04X}",
        more=more,
    )
    fix = phrase("delete it and type the text anew")
    return Finding("wrong-encoding", Severity.ERROR, message, Label(span), remedy=fix)


def _wrong_bytes(file: str, data: bytes) -> tuple[Source, list[Finding]]:
    """Read on with each wrong byte taken for Latin-1, so that the other mistakes come in the same run."""
    text = _plain_ends(data.decode("utf-8-sig", "surrogateescape"))
    wrong = list(re.finditer("[\udc80-\udcff]", text))
    letters = [_latin(m.group()) for m in wrong]
    line, column = _place(text[: wrong[0].start()])
    guess = phrase(" (in Latin-1 it is `%(letter)s`)", letter=letters[0]) if letters[0].isalpha() else ""
    more = {1: "", 2: phrase(", and one more")}.get(len(wrong), phrase(", and %(count)s more", count=len(wrong) - 1))
    message = phrase(
        "the byte 0x%(code)s is no UTF-8%(guess)s%(more)s",
        code=f"{ord(wrong[0].group()) - 0xDC00:02X}",
        guess=guess,
        more=more,
    )
    text = re.sub("[\udc80-\udcff]", lambda m: _latin(m.group()), text)
    return Source(file, text), [_finding(file, line, column, message, _SAVE)]


def _latin(escaped: str) -> str:
    return bytes([ord(escaped) - 0xDC00]).decode("cp1252", "replace")


def _source(file: str, text: str) -> Source:
    return Source(file, _plain_ends(text))


def _plain_ends(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n") if "\r" in text else text


def _place(before: str) -> tuple[int, int]:
    return before.count("\n"), len(before) - before.rfind("\n") - 1


def _unreadable(file: str, check: str, message: str, remedy: str) -> tuple[Source, list[Finding]]:
    return Source(file, "", readable=False), [_finding(file, 0, 0, message, remedy, check)]


def _finding(file: str, line: int, column: int, message: str, remedy: str, check: str = "wrong-encoding") -> Finding:
    span = Span(file, line, column, line, column + 1)
    return Finding(check, Severity.ERROR, message, Label(span), remedy=remedy)
