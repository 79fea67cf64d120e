"""A key of the language, and a fixed group of keys: what validates, documents and makes the schema."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from rigbook.findings.place import Span
from rigbook.language.cuts import cuts
from rigbook.language.groups import ListOf, MapOf
from rigbook.language.reading import Grammar, Reading, Schema, wrong_shape
from rigbook.language.record import Record
from rigbook.language.spoken import NAMES, a_or_an
from rigbook.language.unknown import meant_key, unknown_key
from rigbook.language.within import Within
from rigbook.records import frozen, replace
from rigbook.text.phrase import phrase
from rigbook.text.tree import Broken, Mapping, Node, Scalar


@frozen
class Key:
    """One key of the language: the record that validates it, documents it and puts it in the schema."""

    name: str
    value: Grammar
    help: str
    example: str
    default: str = ""
    required: bool = False
    within: Within | None = None
    """The range in which an amount can be meant."""

    def read(self, node: Node, reading: Reading) -> Any:
        """The value, or `Broken` after a finding; what no one can mean is not read."""
        got = node if isinstance(node, Broken) else self.value.read(node, reading)
        odd = self.within.outside(got, self.example) if self.within and not isinstance(got, Broken) else None
        if self.within is None or odd is None:
            return got
        message = phrase(
            "`%(odd)s` cannot be the `%(key)s`: it is %(range)s", odd=odd[0], key=self.name, range=self.within.words
        )
        return reading.fault("out-of-range", node.span, message, odd[1], self.within.why)

    @property
    def schema(self) -> Schema:
        """JSON Schema of its value, with what editors show of it."""
        can_be = f" ({self.within.words})" if self.within else ""
        return {**self.value.schema(), "description": f"{self.help}{can_be}"}


@frozen
class Shape:
    """A fixed group of keys. `short` names the key that a lone value stands for."""

    name: str
    help: str
    keys: tuple[Key, ...]
    short: str = ""
    by_desk: tuple[str, ...] = ()
    """Keys that may be written for one of several desks: `inputs on monitor-desk`."""
    partial: bool = False
    """Stands in a change: a required key may be left out, what is changed says it."""
    left_out: str = "none"
    """What holds where a key that names no default is left out, as the reference says it."""

    @property
    def words(self) -> str:
        keys = phrase("the keys of %(shape)s", shape=a_or_an(self.name))
        lone = next((k.value.words for k in self.keys if k.name == self.short), "")
        return phrase("%(a)s or %(b)s", a=keys, b=lone) if lone else keys

    def default(self, key: Key) -> str:
        """What holds where a key is left out, in words."""
        return "must be given" if key.required else key.default or self.left_out

    def key(self, name: str) -> Key | None:
        """The key of that name, if the shape has it."""
        return self.table.get(name) or self._desk_key(name)

    @cached_property
    def table(self) -> dict[str, Key]:
        """The keys by name."""
        return {k.name: k for k in self.keys}

    def _desk_key(self, name: str) -> Key | None:
        stem, on, desk = name.partition(" on ")
        return self.table.get(stem) if on and desk.strip() and stem in self.by_desk else None

    def read(self, node: Node, reading: Reading) -> Any:
        if isinstance(node, Broken):
            return node
        lone = self.key(self.short) if self.short else None
        if lone is not None and not isinstance(node, Mapping):
            got = lone.value.read(node, reading)
            ok = not isinstance(got, Broken)
            return Record(
                self.name,
                node.span,
                {lone.name: got} if ok else {},
                {lone.name: node.span},
                frozenset() if ok else frozenset({lone.name}),
            )
        if isinstance(node, Scalar) and not node.text and node.plain:
            node = Mapping({}, {}, node.span)
        if not isinstance(node, Mapping):
            return wrong_shape(node, self.words, reading, self._example())
        return self._read_keys(node, reading)

    def _example(self) -> str:
        """How a group of these keys is written, where the keys show it."""
        # the sort is stable: required keys first, and the next ones in their order
        shown = [k for k in self.keys if k.example and not k.example.startswith("{")]
        shown = sorted(shown, key=lambda k: not k.required)[: max(2, sum(k.required for k in self.keys))]
        keys = ", ".join(f"{k.name}: {k.example}" for k in shown)
        return phrase("write keys between braces: `%(keys)s`", keys=f"{{{keys}}}") if keys else ""

    def _read_keys(self, node: Mapping, reading: Reading) -> Record:
        values: dict[str, Any] = {}
        spans: dict[str, Span] = {}
        broken = self._cut_values(node, reading)
        told = frozenset(broken)
        strange = False
        for name, value in node.items.items():
            if name in told:
                continue
            key = self.key(name)
            if key is None:
                close = unknown_key(self.name, [k.name for k in self.keys], name, node, reading)
                key = self.key(close) if close not in node.items and close not in values else None
                strange |= close == name
                if key is None or (isinstance(value, Scalar) and not self._reads(name, key, value)):
                    # a group says by its shape that it was meant; a lone value may be of another key
                    broken.add(close)
                    continue
                name = close
            spans[name] = value.span
            got = key.read(value, reading)
            if isinstance(got, Broken):
                broken.add(name)
            else:
                values[name] = got
        for key in self.keys:
            required = key.required and not (self.partial or node.partial)
            if required and key.name not in values and key.name not in broken:
                broken.add(key.name)
                # where a key stands that is like no other, it may be any of those that are missing
                if not strange:
                    reading.fault("missing-key", node.span, *self.lacking(key))
        if strange:
            broken |= self.table.keys() - values.keys()
        return Record(self.name, node.span, values, spans, frozenset(broken))

    def _reads(self, name: str, key: Key, value: Node) -> bool:
        """True where an unknown name can only be this key, and what stands behind it is a value of it."""
        trial = Reading()
        return meant_key(name, self.table) == key.name and not isinstance(key.read(value, trial), Broken)

    def _cut_values(self, node: Mapping, reading: Reading) -> set[str]:
        """Report the values that a comma cuts; their keys and the pieces, which are not read, come back."""
        told: set[str] = set()
        if not all(map(self.table.__contains__, node.items)):
            lists = [k.name for k in self.keys if isinstance(k.value, ListOf)]
            for cut in cuts(node, self.table, lists):
                reading.fault("unknown-key", cut.span, cut.message, cut.remedy)
                told |= {cut.key, *cut.rest}
        return told

    def lacking(self, key: Key) -> tuple[str, str]:
        """What to say where a required key is missing, and what to do."""
        return phrase("this %(shape)s has no `%(key)s`", shape=NAMES.get(self.name, self.name), key=key.name), phrase(
            "add `%(line)s` (%(help)s)", line=f"{key.name}: {key.example}", help=phrase(key.help)
        )

    @property
    def definition_name(self) -> str:
        """Its name among the `$defs` of the JSON Schema."""
        return self.name.replace(" ", "-") + ("-changed" if self.partial else "")

    def schema(self) -> Schema:
        return {"$ref": f"#/$defs/{self.definition_name}"}

    def definition(self) -> Schema:
        """The JSON Schema of the group itself, for `$defs`."""
        properties = {k.name: k.schema for k in self.keys}
        body: Schema = {
            "type": "object",
            "description": self.help,
            "properties": properties,
            "additionalProperties": False,
        }
        for k in self.keys:
            if k.name in self.by_desk:
                body.setdefault("patternProperties", {})[rf"^{k.name} on \s*\S"] = properties[k.name]
        required = [k.name for k in self.keys if k.required and not self.partial]
        if required:
            body["required"] = required
        lone = self.key(self.short) if self.short else None
        if lone is not None:
            return {"description": self.help, "anyOf": [lone.value.schema(), body]}
        if not required:
            body["type"] = ["object", "null"]
        return body


def in_change(value: Grammar) -> Grammar:
    """The same grammar as it stands in a change, where a required key may be left out."""
    match value:
        case MapOf():
            inner = in_change(value.value)
            return value if inner is value.value else replace(value, value=inner)
        case Shape():
            inside = [in_change(k.value) for k in value.keys]
            if all(k.value is new and not k.required for k, new in zip(value.keys, inside)):
                return value  # nothing is required: it stands in a change as anywhere
            keys = tuple(k if k.value is new else replace(k, value=new) for k, new in zip(value.keys, inside))
            return replace(value, keys=keys, partial=True)
        case _:
            return value
