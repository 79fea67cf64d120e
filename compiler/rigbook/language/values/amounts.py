"""Amounts with their unit: `18 m`; and two of them: `60 Hz - 18 kHz`."""

from __future__ import annotations

import re
from typing import Any

from rigbook.language.reading import Reading, Schema, matching, problem, wrong_shape
from rigbook.records import frozen, replace
from rigbook.text.phrase import either, phrase
from rigbook.text.tree import Node, Scalar
from rigbook.units.dimension import DIMENSIONS
from rigbook.units.parse import Problem, parse, parse_range
from rigbook.units.pattern import amount_pattern, range_pattern

_NUMBER = re.compile(r"[-+−]?[0-9.]+")


@frozen
class Amount:
    """A number with its unit."""

    dimension: str
    example: str

    @property
    def words(self) -> str:
        return phrase("an amount with its unit, such as `%(example)s`", example=self.example)

    def read(self, node: Node, reading: Reading) -> Any:
        if not isinstance(node, Scalar):
            return wrong_shape(node, self.words, reading)
        got = parse(node.text, self.dimension)
        if isinstance(got, Problem) and got.message.endswith("has no unit"):
            got = replace(got, remedy=phrase("write %(names)s", names=self._usual_first(node.text.strip(), got.remedy)))
        elif isinstance(got, Problem) and got.message.endswith("belongs here"):
            typed = _NUMBER.match(node.text.strip())
            names = self._usual_first(typed.group() if typed else "", got.remedy)
            got = replace(got, remedy=phrase("write %(names)s if the number is right", names=names))
        return problem(got, node, reading, "wrong-unit") if isinstance(got, Problem) else got

    def _usual_first(self, typed: str, remedy: str) -> str:
        """What to write for a number without its unit: the unit that this key usually has goes first."""
        unit = self.example.lstrip("-+−.0123456789 ")
        usual = f"`{typed} {unit}`"
        others = [offer for offer in re.findall("`[^`]+`", remedy) if offer != usual]
        return either((usual, *others) if unit and unit != "AWG" else others)

    @property
    def name(self) -> str:
        """Its name among the `$defs` of the JSON Schema, one for all amounts of a dimension."""
        return self.dimension.replace(" ", "-")

    def schema(self) -> Schema:
        return {"$ref": f"#/$defs/{self.name}", "examples": [self.example]}

    def definition(self) -> Schema:
        """The JSON Schema itself, for `$defs`."""
        kind = DIMENSIONS[self.dimension]
        words = f"{kind.phrase} such as `{kind.example} {kind.offer[0]}`"
        return matching(rf"^\s*{amount_pattern(self.dimension)}\s*$", words)


@frozen
class AmountRange:
    """Two amounts: `60 Hz - 18 kHz`."""

    dimension: str
    example: str

    @property
    def words(self) -> str:
        return phrase("two amounts, such as `%(example)s`", example=self.example)

    def read(self, node: Node, reading: Reading) -> Any:
        if not isinstance(node, Scalar):
            return wrong_shape(node, self.words, reading)
        got = parse_range(node.text, self.dimension)
        return problem(got, node, reading, "wrong-unit") if isinstance(got, Problem) else got

    @property
    def name(self) -> str:
        """Its name among the `$defs` of the JSON Schema."""
        return f"{self.dimension.replace(' ', '-')}-range"

    def schema(self) -> Schema:
        return {"$ref": f"#/$defs/{self.name}", "examples": [self.example]}

    def definition(self) -> Schema:
        """The JSON Schema itself, for `$defs`."""
        return matching(rf"^\s*{range_pattern(self.dimension)}\s*$", self.words)
