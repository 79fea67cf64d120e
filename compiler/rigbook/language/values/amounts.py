"""Amounts with their unit: `18 m`; and two of them: `60 Hz - 18 kHz`."""

from __future__ import annotations

import re
from typing import Any

from rigbook.language.reading import Reading, Schema, problem, wrong_shape
from rigbook.records import frozen, replace
from rigbook.text.phrase import either, phrase
from rigbook.text.tree import Node, Scalar
from rigbook.units.parse import Problem, parse, parse_range


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
            got = replace(got, remedy=self._usual_first(node.text.strip(), got.remedy))
        return problem(got, node, reading, "wrong-unit") if isinstance(got, Problem) else got

    def _usual_first(self, typed: str, remedy: str) -> str:
        """The remedy for an amount without a unit: the unit that this key usually has goes first."""
        unit = self.example.lstrip("-+−.0123456789 ")
        usual = f"`{typed} {unit}`"
        others = [offer for offer in re.findall("`[^`]+`", remedy) if offer != usual]
        return phrase("write %(names)s", names=either((usual, *others) if unit and unit != "AWG" else others))

    def schema(self) -> Schema:
        return {"type": "string", "pattern": r"^\s*[-+−]?\d", "examples": [self.example]}


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

    def schema(self) -> Schema:
        return {"type": "string", "examples": [self.example]}
