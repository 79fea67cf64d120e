"""What one reading collects, what every reader of a value can do, and the reader of a single text.

Each grammar has `read` (tree to value, findings to the `Reading`) and `schema` (its JSON Schema). A value that
could not be read comes back as `Broken`, and its finding has been made.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Protocol

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.records import changing, field, frozen
from rigbook.text.phrase import phrase
from rigbook.text.tree import Broken, Listing, Mapping, Node, Scalar
from rigbook.units.parse import Problem

Schema = dict[str, Any]


@changing
class Reading:
    """What one run of the language collects."""

    findings: list[Finding] = field(default_factory=list)

    def fault(
        self,
        check: str,
        span: Span,
        message: str,
        remedy: str = "",
        label: str = "",
        secondary: tuple[Label, ...] = (),
    ) -> Broken:
        """Add a finding and give the `Broken` that stands for the value."""
        self.findings.append(
            Finding(check, Severity.ERROR, message, Label(span, label), secondary=secondary, remedy=remedy)
        )
        return Broken(span)


class Grammar(Protocol):
    """What every reader of a value can do."""

    @property
    def words(self) -> str:
        """What is expected, as said in a sentence: `a length such as `18 m``."""
        ...

    def read(self, node: Node, reading: Reading) -> Any:
        """The value, or `Broken` after a finding."""
        ...

    def schema(self) -> Schema:
        """JSON Schema 2020-12 of what may be typed."""
        ...


def shape_word(node: Node) -> str:
    """What a node looks like to its writer."""
    match node:
        case Mapping():
            return phrase("a group of `key: value` lines")
        case Listing():
            return phrase("a list")
        case Scalar(text=""):
            return phrase("nothing")
        case _:
            return phrase("a single value")


STANDS = phrase("%(found)s stands where %(expected)s belongs")
STAND = phrase("%(found)s stands where %(expected)s belong")


def wrong_shape(node: Node, expected: str, reading: Reading, remedy: str = "") -> Broken:
    """The finding for a list where a single value belongs, and the like."""
    if isinstance(node, Broken):
        return node
    many = expected.startswith(("the keys", "lines"))
    message = phrase(STAND if many else STANDS, found=shape_word(node), expected=expected)
    return reading.fault("wrong-shape", node.span, message, remedy or phrase("write %(expected)s", expected=expected))


@frozen
class Parsed:
    """A single value read by a function of its text.

    `parse` gives the value, or a `Problem` with the part of the text that is wrong.
    """

    words: str
    parse: Callable[[str, Span], Any]
    pattern: str = ""
    """All that `parse` takes, as a regular expression of Python and of ECMA-262; it may take more."""
    check: str = "wrong-value"
    bare: bool = False
    """What is typed may look like a number, or like `true`, to an editor's YAML."""
    name: str = ""
    """Its name among the `$defs` of the JSON Schema; without one, it stands where it is used."""

    def read(self, node: Node, reading: Reading) -> Any:
        if not isinstance(node, Scalar):
            return wrong_shape(node, self.words, reading)
        got = self.parse(node.text, node.span)
        if isinstance(got, Problem):
            lost = problem(got, node, reading, self.check)
            return lost if got.instead is None else got.instead
        return got

    def schema(self) -> Schema:
        return {"$ref": f"#/$defs/{self.name}"} if self.name else self.definition()

    def definition(self) -> Schema:
        """The JSON Schema itself, for `$defs`."""
        return matching(self.pattern, self.words, ["string", "number", "boolean"] if self.bare else "string")


def matching(pattern: str, words: str, kind: str | list[str] = "string") -> Schema:
    """The JSON Schema of a text; with a pattern, what an editor says where it does not match."""
    out: Schema = {"type": kind}
    if pattern:
        out |= {"pattern": pattern, "patternErrorMessage": phrase("write %(expected)s", expected=words)}
    return out


@frozen
class Naming:
    """Which names of the user's own may stand as keys of a group."""

    problem: Callable[[str], Problem | None]
    """What is wrong with a name, if anything."""
    pattern: str
    """All names that pass, as a regular expression of Python and of ECMA-262; it may take more."""
    longest: int = 0
    """Characters that a name may have; 0 where it says nothing."""

    def schema(self) -> Schema:
        """JSON Schema of the names."""
        return {"pattern": self.pattern, **({"maxLength": self.longest} if self.longest else {})}


def problem(got: Problem, node: Scalar, reading: Reading, check: str = "wrong-value") -> Broken:
    """The finding for a problem in a text, at the part of the text that it concerns."""
    return reading.fault(check, part(node, got.start, got.length), got.message, got.remedy)


def part(node: Scalar, start: int, length: int) -> Span:
    """The span of a part of a one-line scalar; the whole scalar where the part cannot be placed."""
    if node.block or node.span.line != node.span.end_line or not length:
        return node.span
    return node.span.within(start + (0 if node.plain else 1), length)
