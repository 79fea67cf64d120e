"""Lists, and groups of the user's own names."""

from __future__ import annotations

from typing import Any

from rigbook.findings.place import Span
from rigbook.language.reading import Grammar, Naming, Reading, Schema, wrong_shape
from rigbook.language.record import Entry
from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.text.tree import Broken, Listing, Mapping, Node, Scalar


@frozen
class ListOf:
    """A list. With `lone`, a single value may stand for a list of one."""

    item: Grammar
    lone: bool = False

    @property
    def words(self) -> str:
        return phrase("a list of items, each %(words)s", words=self.item.words)

    def read(self, node: Node, reading: Reading) -> Any:
        if isinstance(node, Broken):
            return node
        if isinstance(node, Listing):
            got = [self.item.read(n, reading) for n in node.items]
        elif self.lone:
            got = [self.item.read(node, reading)]
        elif isinstance(node, Scalar) and node.text:
            return wrong_shape(
                node,
                phrase("a list"),
                reading,
                phrase("write `- %(node)s` on a line of its own below the key", node=node.text),
            )
        else:
            return wrong_shape(node, self.words, reading, _with_dash(node))
        return tuple(v for v in got if not isinstance(v, Broken))

    def schema(self) -> Schema:
        many: Schema = {"type": "array", "items": self.item.schema()}
        return {"anyOf": [self.item.schema(), many]} if self.lone else many


def _with_dash(node: Node) -> str:
    """What to write in place of `desk/out 1: top/in`, a cable with a colon for its arrow and no dash."""
    first = next(iter(node.items.items()), None) if isinstance(node, Mapping) else None
    if first is None or "/" not in first[0] or not isinstance(first[1], Scalar) or not first[1].text:
        return ""
    return phrase("write `- %(line)s`, and the other lines likewise", line=f"{first[0]} -> {first[1].text}")


@frozen
class MapOf:
    """Names of the user's own, each with a value. The value read is a tuple of `Entry`."""

    key_words: str
    value: Grammar
    names: Naming | None = None
    """Which names may stand here; without it, any."""

    @property
    def words(self) -> str:
        return phrase("lines of `%(line)s`", line=f"{self.key_words}: …")

    def read(self, node: Node, reading: Reading) -> Any:
        if isinstance(node, Scalar) and not node.text and node.plain:
            return ()
        if isinstance(node, Listing) and (joined := _joined(node)) is not None:
            first = next(iter(joined.items))
            how = phrase("leave the dashes out: `%(line)s` on a line of its own", line=f"{first}: …")
            wrong_shape(node, self.words, reading, how)
            node = joined
        if not isinstance(node, Mapping):
            return wrong_shape(node, self.words, reading, self._how(node))
        out = []
        for name, value in node.items.items():
            wrong = self.names.problem(name) if self.names else None
            if wrong:
                reading.fault("wrong-value", node.keys[name], wrong.message, wrong.remedy)
                if wrong.instead is None:
                    continue
            got = self.value.read(value, reading)
            said = str(wrong.instead) if wrong else name
            out.append(Entry(said, node.keys[name], None if isinstance(got, Broken) else got))
        return tuple(out)

    def _how(self, node: Node) -> str:
        """What to write in place of a list, with its first item as it can stand."""
        first = next(iter(node.items), None) if isinstance(node, Listing) else None
        shown = {"CHANNEL": "1", "CABLE KIND": "xlr"}.get(self.key_words, self.key_words)
        if isinstance(first, Mapping):
            keys = ", ".join(f"{k}: …" for k in list(first.items)[:2])
            return phrase(
                "write the %(name)s for the dash in front of each: `%(line)s`",
                name=self.key_words.lower(),
                line=f"{shown}: {{{keys}}}",
            )
        if isinstance(first, Scalar):
            if self.key_words == "CABLE KIND":
                return phrase(
                    "write the cable kind in a line above, such as `%(shown)s:`, and indent the list below it",
                    shown=shown,
                )
            return phrase(
                "write the %(name)s and a colon for each dash: `%(line)s`",
                name=self.key_words.lower(),
                line=f"{shown}: {first.text}",
            )
        return ""

    def schema(self) -> Schema:
        body: Schema = {"type": ["object", "null"], "additionalProperties": self.value.schema()}
        if self.names:
            body["propertyNames"] = self.names.schema()
        return body


def _joined(node: Listing) -> Mapping | None:
    """A list whose items are one `name: value` each, as the group that was meant."""
    items: dict[str, Node] = {}
    keys: dict[str, Span] = {}
    for item in node.items:
        if not isinstance(item, Mapping) or len(item.items) != 1:
            return None
        items.update(item.items)
        keys.update(item.keys)
    return Mapping(items, keys, node.span) if len(items) == len(node.items) and items else None
