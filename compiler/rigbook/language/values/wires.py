"""One line of wiring: `amp/out A -> top-left, 18 m, label W7`.

Grammar: END `->` END (`->` END)* (`,` LENGTH)? (`,` `label` TEXT)? (`,` `spare`)?
An END is a socket, a unit, or a run of sockets (`box/in 1-8`).
"""

from __future__ import annotations

import re

from rigbook.findings.place import Span
from rigbook.language.keys.plausible import CABLE
from rigbook.language.reading import Reading, Schema, matching, part, problem, wrong_shape
from rigbook.language.values.names import NAME, SocketRef, name_problem, socket
from rigbook.records import frozen, replace
from rigbook.text.phrase import phrase
from rigbook.text.tree import Mapping, Node, Scalar
from rigbook.units.parse import Problem, parse
from rigbook.units.pattern import amount_pattern
from rigbook.units.quantity import Quantity

END = phrase("a cable line such as `amp/out A -> top-left, 18 m`")


@frozen
class Wire:
    """A line of wiring as typed: two ends or more (a chain), and what is said about the cable."""

    ends: tuple[SocketRef, ...]
    length: Quantity | None
    label: str
    adaptor: str
    """Name of the adaptor kind that makes unlike ends fit, if one is said."""
    split: bool
    """True where the line says `split`: one socket is meant to feed several."""
    span: Span
    adaptor_span: Span | None = None

    @property
    def text(self) -> str:
        """The ends, as typed."""
        return " -> ".join(e.text for e in self.ends)


@frozen
class WireGrammar:
    """Reads a line of wiring."""

    words: str = END
    name: str = "cable-line"

    def read(self, node: Node, reading: Reading) -> object:
        if isinstance(node, Mapping) and len(node.items) == 1:
            ((ends, value),) = node.items.items()
            if "->" in ends and isinstance(value, Scalar):
                return reading.fault(
                    "wrong-value",
                    node.span,
                    phrase("a colon stands between the cable and `%(value)s`", value=value.text),
                    phrase("write a comma: `%(line)s`", line=f"{ends.strip()}, {value.text}"),
                )
        if not isinstance(node, Scalar):
            return wrong_shape(node, self.words, reading)
        told: list[Problem] = []
        got = wire(node, told)
        for wrong in told:
            problem(wrong, node, reading)
        length = got.length if isinstance(got, Wire) else None
        odd = CABLE.outside(length, f"{length.amount} m") if length is not None else None
        if isinstance(got, Wire) and odd is not None:
            # the cable itself is read: only how long it is stays unknown
            start = node.text.rfind(odd[0])
            at = part(node, max(start, 0), len(odd[0])) if start >= 0 else node.span
            message = phrase("a cable cannot be `%(odd)s` long: it is %(range)s", odd=odd[0], range=CABLE.words)
            reading.fault("out-of-range", at, message, odd[1], CABLE.why)
            return replace(got, length=None)
        return problem(got, node, reading) if isinstance(got, Problem) else got

    def schema(self) -> Schema:
        return {"$ref": f"#/$defs/{self.name}"}

    def definition(self) -> Schema:
        """The JSON Schema itself, for `$defs`."""
        return matching(_pattern(), self.words)


def _pattern() -> str:
    """What `wire` takes."""
    port = r"(?:[^,\s-]|-(?!>))(?:[^,-]|-(?!>))*"
    end = rf"\s*{NAME}\s*(?:/\s*{port})?"
    extra = rf"label\s[^,]*|adaptor\s+{NAME}\s*|split\s*|{amount_pattern('length')}\s*"
    return rf"^{end}(?:->{end})+(?:,\s*(?:{extra}))*$"


def wire(node: Scalar, told: list[Problem] | None = None) -> Wire | Problem:
    """Read one line; the first thing wrong with it comes back as a `Problem`.

    What is wrong and leaves no doubt of what is meant goes into `told` instead.
    """
    head, *rest = node.text.split(",")
    if "->" not in head:
        for arrow in ("→", "=>", "–>", "—>", "- >", "-->", ">", "--", " to "):
            if arrow in head:
                shown = head.replace(arrow, " -> ", 1)
                return Problem(
                    phrase("`%(value)s` does not join two sockets", value=arrow.strip()),
                    phrase("write `%(line)s`", line=" ".join(shown.split())),
                    0,
                    len(head),
                )
        if _is_extra(head.strip()):
            # `[a -> b, 3 m]`: YAML has cut the line at the comma, and this is what stood after it
            message = phrase(
                "the comma before `%(value)s` cuts the cable line, as it stands in brackets", value=head.strip()
            )
            return Problem(
                message, phrase('put the cable in quotes, `"… -> …, %(value)s"`', value=head.strip()), 0, len(head)
            )
        return Problem(
            phrase("`%(value)s` has no `->`", value=head.strip()),
            phrase("write %(example)s", example=END),
            0,
            len(head),
        )
    ends: list[SocketRef] = []
    for m in re.finditer(r"(?:^|(?<=->))(?:(?!->).)*", head):
        text = m.group().strip()
        start = m.start() + len(m.group()) - len(m.group().lstrip())
        got = socket(text, part(node, start, len(text))) if text else Problem(phrase("an end is missing"), "", 0, 2)
        if isinstance(got, Problem) and told is not None and isinstance(got.instead, SocketRef):
            told.append(replace(got, start=start))
            got = got.instead
        if isinstance(got, Problem):
            return Problem(
                got.message,
                got.remedy or phrase("write %(example)s", example=END),
                start + got.start,
                got.length or len(text),
            )
        ends.append(got)
    if len(ends) < 2:
        return Problem(
            phrase("`%(value)s` has one end only", value=head.strip()),
            phrase("write %(example)s", example=END),
            0,
            len(head),
        )
    return _extras(node, tuple(ends), len(head), rest)


def _is_extra(text: str) -> bool:
    """True for what may stand after the ends of a cable."""
    return text == "split" or text.startswith(("label ", "adaptor ")) or not isinstance(parse(text, "length"), Problem)


def _extras(node: Scalar, ends: tuple[SocketRef, ...], column: int, rest: list[str]) -> Wire | Problem:
    length: Quantity | None = None
    label = adaptor = ""
    split = False
    adaptor_span: Span | None = None
    comma = re.search(r",\s*([0-9]+),([0-9]+)(?=\s*[a-z])", node.text)
    if comma and comma.start() >= column:
        return _decimal(node, comma)
    for raw in rest:
        if "->" in raw:
            return _second_cable(raw, column + 1)
        start, text = column + 1 + len(raw) - len(raw.lstrip()), raw.strip()
        column += 1 + len(raw)
        if text.startswith("label "):
            label = text[6:].strip()
        elif text.startswith("adaptor "):
            adaptor = text[8:].strip()
            wrong = name_problem(adaptor)
            if wrong:
                return Problem(wrong.message, wrong.remedy, start + 8, len(adaptor))
            adaptor_span = part(node, start + 8, len(adaptor))
        elif text == "split":
            split = True
        else:
            got = _second_length(node, start) if length else parse(text, "length")
            if isinstance(got, Problem):
                fix = got.remedy or phrase(
                    "write a length (`18 m`), `label W7`, `adaptor NAME` or `split` after the comma"
                )
                return Problem(got.message, fix, start + got.start, got.length or len(text))
            length = got
    return Wire(ends, length, label, adaptor, split, node.span, adaptor_span)


def _decimal(node: Scalar, comma: re.Match[str]) -> Problem:
    """`2,5 m`: the comma that divides the parts of a cable stands in a number."""
    start = comma.start(1)
    typed = node.text[start:].split(", ")[0].strip()
    pointed = typed.replace(",", ".", 1)
    return Problem(
        phrase("`%(typed)s` has a comma in its number", typed=typed),
        phrase("write `%(pointed)s`", pointed=pointed),
        start,
        len(typed),
    )


def _second_cable(raw: str, column: int) -> Problem:
    """Two lines of wiring that YAML has joined, as the dash of the second is missing."""
    m = re.search(r"[a-z0-9][a-z0-9.-]*(?:/[^>]*?)?\s*->.*", raw)
    again = m.group().strip() if m else raw.strip()
    start = column + (m.start() if m else 0)
    return Problem(
        phrase("a second cable `%(again)s` stands in this line", again=again),
        phrase("begin a line with it: `- %(again)s`", again=again),
        start,
        0,
    )


def _second_length(node: Scalar, start: int) -> Quantity | Problem:
    text = node.text[start:].split(",")[0].strip()
    got = parse(text, "length")
    if isinstance(got, Problem):
        return got
    fix = phrase("keep one of the two lengths; a number with a part behind it takes a point, such as `2.5 m`")
    return Problem(phrase("`%(value)s` is a second length of one cable", value=text), fix, 0, len(text))


WIRE = WireGrammar()
