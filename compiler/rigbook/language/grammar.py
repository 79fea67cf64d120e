"""How one value of the language is read: the small readers that the table of keys is made of.

Each grammar has `read` (tree to value, findings to the `Reading`) and `schema` (its JSON Schema). A value that
could not be read comes back as `Broken`, and its finding has been made.

long: every reader of a value and the shape that holds them, one family of small classes.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cached_property
from types import MappingProxyType
from typing import Any, Protocol

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.findings.suggest import meant, near
from rigbook.language.cuts import cuts
from rigbook.language.spoken import NAMES
from rigbook.language.spoken import SHAPES as SPOKEN
from rigbook.language.within import Within
from rigbook.records import changing, field, frozen, replace
from rigbook.text.phrase import either, joined, phrase
from rigbook.text.tree import Broken, Listing, Mapping, Node, Scalar
from rigbook.units.parse import Problem, parse, parse_range

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


def a_or_an(name: str) -> str:
    """A noun with its article, as the names of this language are spoken."""
    return SPOKEN.get(name) or (f"an {name}" if name[0] in "aeio" else f"a {name}")


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
    check: str = "wrong-value"
    plain_numbers: bool = False

    def read(self, node: Node, reading: Reading) -> Any:
        if not isinstance(node, Scalar):
            return wrong_shape(node, self.words, reading)
        got = self.parse(node.text, node.span)
        if isinstance(got, Problem):
            lost = problem(got, node, reading, self.check)
            return lost if got.instead is None else got.instead
        return got

    def schema(self) -> Schema:
        out: Schema = {"type": ["string", "number"] if self.plain_numbers else "string"}
        if self.pattern:
            out["pattern"] = self.pattern
        return out


def problem(got: Problem, node: Scalar, reading: Reading, check: str = "wrong-value") -> Broken:
    """The finding for a problem in a text, at the part of the text that it concerns."""
    return reading.fault(check, part(node, got.start, got.length), got.message, got.remedy)


def part(node: Scalar, start: int, length: int) -> Span:
    """The span of a part of a one-line scalar; the whole scalar where the part cannot be placed."""
    if node.block or node.span.line != node.span.end_line or not length:
        return node.span
    return node.span.within(start + (0 if node.plain else 1), length)


def _text(text: str, span: Span) -> Any:
    return text.strip() or Problem(
        phrase("the value is empty"), phrase("write something here, or leave the key out"), 0, 0
    )


TEXT = Parsed(phrase("a short text"), _text, plain_numbers=True)

_YES = MappingProxyType({"yes": True, "on": True, "true": True, "no": False, "off": False, "false": False})
_SAID = MappingProxyType({"y": True, "ja": True, "oui": True, "x": True, "n": False, "nein": False, "non": False})
"""What is typed in other tongues and in forms; told, and read as meant."""


def _yes_no(text: str, span: Span) -> Any:
    value = _YES.get(text.lower())
    near_yes = "yes" if text.lower() in ("ys", "ye", "es", "yse", "eys", "yess", "yed", "tes") else ""
    said = _SAID.get(text.lower(), _YES.get(meant(text.lower(), _YES) or near_yes))
    if value is None and said is not None:
        return Problem(
            phrase("`%(value)s` is neither yes nor no", value=text),
            phrase("write `%(line)s`", line="yes" if said else "no"),
            0,
            len(text),
            said,
        )
    if value is None:
        return Problem(
            phrase("`%(value)s` is neither yes nor no", value=text), phrase("write `yes` or `no`"), 0, len(text)
        )
    return value


@frozen
class YesNo(Parsed):
    """`yes` or `no` (`on`, `off`, `true`, `false` mean the same here, and only here)."""

    words: str = phrase("`yes` or `no`")
    parse: Callable[[str, Span], Any] = _yes_no

    def schema(self) -> Schema:
        return {"enum": [True, False, *_YES]}


YES_NO = YesNo()


def _whole(text: str, span: Span) -> Any:
    if not re.fullmatch(r"\d{1,6}", text):
        return Problem(
            phrase("`%(value)s` is not a whole number", value=text), phrase("write a number such as `12`"), 0, len(text)
        )
    return int(text)


@frozen
class Whole(Parsed):
    """A count."""

    words: str = phrase("a whole number")
    parse: Callable[[str, Span], Any] = _whole

    def schema(self) -> Schema:
        return {"type": ["integer", "string"], "pattern": r"^\d{1,6}$", "minimum": 0, "maximum": 999999}


WHOLE = Whole()


@frozen
class Choice:
    """One of a few words."""

    options: tuple[str, ...]

    @property
    def words(self) -> str:
        return phrase("one of %(names)s", names=joined(f"`{o}`" for o in self.options))

    def read(self, node: Node, reading: Reading) -> Any:
        if not isinstance(node, Scalar):
            return wrong_shape(node, self.words, reading)
        if node.text in self.options:
            return node.text
        close = near(node.text, self.options)
        fix = phrase("write `%(line)s`", line=close[0]) if close else phrase("write %(words)s", words=self.words)
        lost = reading.fault("wrong-value", node.span, phrase("`%(value)s` is not known here", value=node.text), fix)
        return meant(node.text, self.options) or lost

    def schema(self) -> Schema:
        return {"enum": list(self.options)}


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


@frozen
class NoteText:
    """Markdown. The value is the text with its place; it is rendered where it is shown."""

    words: str = phrase("a text (Markdown)")

    def read(self, node: Node, reading: Reading) -> Any:
        return node if isinstance(node, Scalar) else wrong_shape(node, self.words, reading)

    def schema(self) -> Schema:
        return {"type": "string"}


NOTE = NoteText()


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
class Entry:
    """One named value of a `MapOf`: the key as typed, its place, the value."""

    name: str
    span: Span
    value: Any


@frozen
class MapOf:
    """Names of the user's own, each with a value. The value read is a tuple of `Entry`."""

    key_words: str
    value: Grammar
    key_pattern: str = ""
    key_check: Callable[[str], Problem | None] | None = None

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
            wrong = self.key_check(name) if self.key_check else None
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
        body: Schema = {"type": ["object", "null"]}
        if self.key_pattern:
            body["patternProperties"] = {self.key_pattern: self.value.schema()}
            body["additionalProperties"] = False
        else:
            body["additionalProperties"] = self.value.schema()
        return body


def _group_above(name: str, node: Mapping) -> str:
    """The group of lines that ends right before a key; empty where a lone value stands there."""
    names = list(node.items)
    before = names[names.index(name) - 1] if names.index(name) else ""
    value = node.items.get(before)
    return before if isinstance(value, Mapping) and value.span.line > node.keys[before].line else ""


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
class Record:
    """A group of keys as read. `values` holds what could be read; `broken` names the keys that could not."""

    shape: str
    span: Span
    values: dict[str, Any]
    spans: dict[str, Span]
    """Where the value of each key stands."""
    broken: frozenset[str] = frozenset()

    def get(self, key: str, default: Any = None) -> Any:
        """The value of a key, or the default where it was not typed (or could not be read)."""
        return self.values.get(key, default)

    def at(self, key: str) -> Span:
        """Where the value of a key stands; the whole record where it was not typed."""
        return self.spans.get(key, self.span)


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

    @property
    def words(self) -> str:
        keys = phrase("the keys of %(shape)s", shape=a_or_an(self.name))
        lone = next((k.value.words for k in self.keys if k.name == self.short), "")
        return phrase("%(a)s or %(b)s", a=keys, b=lone) if lone else keys

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
                close = self._unknown(name, node, reading)
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
        return meant(name, self.table) == key.name and not isinstance(key.read(value, trial), Broken)

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

    def _unknown(self, name: str, node: Mapping, reading: Reading) -> str:
        """Report an unknown key; the key that was probably meant counts as broken."""
        known = [k.name for k in self.keys]
        first, _, rest = name.partition(" ")
        if first in known:
            message = phrase("a colon is missing after `%(first)s`", first=first)
            reading.fault(
                "unknown-key",
                node.keys[name],
                message,
                phrase("write `%(line)s`", line=f"{first}: {rest.strip()}"),
            )
            return first
        close = near(name, known) or tuple(k for k in known if k in (f"{name.lower()}s", f"{name.lower()}es"))
        close = close or tuple(k for k in known if name.lower() == "bus" and k == "buses")
        if close:
            fix = phrase("write `%(line)s`", line=close[0])
        elif (above := _group_above(name, node)) and not node.keys[name].column:
            fix = phrase("indent it if it belongs to `%(above)s:` above, else leave it out", above=above)
        else:
            fix = phrase("leave it out, or use one of %(names)s", names=joined(f"`{k.name}`" for k in self.keys[:12]))
        reading.fault(
            "unknown-key",
            node.keys[name],
            phrase("%(shape)s has no key `%(name)s`", shape=a_or_an(self.name), name=name),
            fix,
        )
        return close[0] if close else name

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
                body.setdefault("patternProperties", {})[f"^{k.name} on [a-z0-9]"] = properties[k.name]
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
            return replace(value, value=in_change(value.value))
        case Shape():
            return replace(value, keys=tuple(replace(k, value=in_change(k.value)) for k in value.keys), partial=True)
        case _:
            return value
