"""Kinds of equipment by name: the plan's own, and the shipped library, read one kind at a time when it is named."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Final

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.findings.suggest import near
from rigbook.language.read import read_plan
from rigbook.language.record import Entry, Record
from rigbook.language.values.names import unfold
from rigbook.plan.model import Kind, Port
from rigbook.plan.words import family_words, write_one_of
from rigbook.records import changing, field
from rigbook.text.phrase import either, joined, phrase
from rigbook.text.yaml_reader import read, read_bytes
from rigbook.units.quantity import pretty

LIBRARY = Path(__file__).parent.parent / "gear"
KIND: Final = phrase("kind")
MOST: Final = 6
"""Names of kinds that a message lists."""
Routes = tuple[tuple[str, str], ...]


@changing
class Gear:
    """Looks kinds up. `used` holds every kind that was asked for and found."""

    own: dict[str, tuple[Span, Record]]
    findings: list[Finding] = field(default_factory=list)
    used: dict[str, Kind] = field(default_factory=dict)

    @property
    def shipped(self) -> dict[str, Path]:
        """Files of the shipped library, by the kind they describe."""
        return _library(LIBRARY)

    def names(self, families: tuple[str, ...] = ()) -> list[str]:
        """Every name of a kind, of some families if said (by the folder's name for shipped ones)."""
        folders = {f.replace(" ", "-") for f in families}
        shipped = [n for n, p in self.shipped.items() if not folders or p.parent.name in folders]
        return [*self.own, *shipped]

    def _instead(self, name: str, families: tuple[str, ...]) -> str:
        """What to do where no kind is near: the kinds of the family, those first that share a word with the name."""
        words = name.split("-")
        fits = self.names(families) if families else self.names((words[-1],))
        shared = [n for n in fits if set(words) & set(n.split("-"))]
        if not fits:
            return phrase("name a kind that `rigbook explain gear` lists, or describe your own under `kinds:`")
        # the plan's own kinds are of any family
        shown = [n for n in shared or fits if n not in self.own]
        names = joined(f"`{n}`" for n in shown[:MOST])
        if len(shown) > MOST:
            return phrase(
                "name one that `rigbook explain gear %(family)s` lists, such as %(names)s, or describe your own under"
                " `kinds:`",
                family=families[0].replace(" ", "-") if families else words[-1],
                names=names,
            )
        return phrase("write one of %(names)s, or describe your own under `kinds:`", names=names)

    def find(self, name: str, span: Span, families: tuple[str, ...] = (), what: str = KIND) -> Kind | None:
        """The kind of a name. An unknown name is a finding; a near one is read as what was meant."""
        kind = self._get(name)
        if kind is None:
            close = near(name, self.names(families)) or near(name, self.names())
            fix = write_one_of(close) if close else self._instead(name, families)
            self._add(
                "unknown-name",
                span,
                phrase("there is no %(what)s `%(name)s` in the gear library", what=what, name=name),
                fix,
            )
            return self._get(close[0]) if close else None
        if families and kind.family not in families:
            fix = phrase("name a %(families)s", families=either(family_words(f) for f in families))
            close = near(name, self.names(families))
            if close:
                fix = phrase("%(fix)s, such as `%(name)s`", fix=fix, name=close[0])
            self._add(
                "wrong-kind",
                span,
                phrase(
                    "`%(name)s` is a %(family)s, a %(wanted)s belongs here",
                    name=name,
                    family=family_words(kind.family),
                    wanted=family_words(families[0]),
                ),
                fix,
            )
        return kind

    def _get(self, name: str) -> Kind | None:
        if name not in self.used:
            if name in self.own:
                self.used[name] = build_kind(name, self.own[name][1], self.findings)
            elif name in self.shipped:
                self.used[name] = _shipped(name, self.shipped[name])
            else:
                return None
        return self.used[name]

    def _add(self, check: str, span: Span, message: str, remedy: str) -> None:
        self.findings.append(Finding(check, Severity.ERROR, message, Label(span), remedy=remedy))


# the library is part of the program: it does not change while that runs
@cache
def _library(home: Path) -> dict[str, Path]:
    return {p.stem: p for p in sorted(home.glob("*/*.yaml"))}


@cache
def _shipped(name: str, path: Path) -> Kind:
    source, wrong = read_bytes(f"gear:{path.parent.name}/{path.name}", path.read_bytes())
    node, more = read(source)
    record, most = read_plan(node)
    wrong = [*wrong, *more, *most]
    for entry in record.get("kinds", ()):
        if entry.name == name and isinstance(entry.value, Record) and not wrong:
            return build_kind(name, entry.value, wrong, shipped=True)
    raise AssertionError(f"the shipped library is broken at {name}: {wrong}")


def build_kind(name: str, record: Record, findings: list[Finding], shipped: bool = False) -> Kind:
    """A record to a kind: runs of ports and routes unfolded."""
    ports: dict[str, Port] = {}
    for entry in record.get("ports", ()):
        if isinstance(entry.value, Record):
            for port in _ports(entry, entry.value, findings):
                ports[port.name] = port
    family = str(record.get("is", ""))
    routes = _routes(record.get("routes", ()), ports, record.at("routes"), findings)
    modes = {e.name: _routes(e.value or (), ports, e.span, findings) for e in record.get("modes", ())}
    title = _printed(str(record.get("title", name)))
    return Kind(
        name,
        family,
        # that the library is generic is said once, by the library; in a table the word would stand in every row
        phrase(title.replace(", generic", "")) if shipped else title,
        MappingProxyType(ports),
        routes,
        MappingProxyType(modes),
        record,
        shipped,
    )


def _ports(entry: Entry, record: Record, findings: list[Finding]) -> list[Port]:
    names = unfold(entry.name)
    if names is None:
        fix = phrase("write a run from low to high, such as `in 1-16` or `out A-D`")
        findings.append(
            Finding(
                "wrong-value",
                Severity.ERROR,
                phrase("`%(name)s` is no run of ports", name=entry.name),
                Label(entry.span),
                remedy=fix,
            )
        )
        return []
    connector = str(record.get("connector", "open"))
    balanced = record.get("balanced")
    return [
        Port(
            n,
            connector,
            str(record.get("level", "line")),
            str(record.get("direction", "in")),
            bool(record.get("phantom", False)),
            bool(record.get("pad", False)),
            int(record.get("block", 1)),
            connector not in ("jack-unbalanced", "phono", "mini-jack") if balanced is None else bool(balanced),
        )
        for n in names
    ]


def _printed(title: str) -> str:
    """A title with the signs of print: `2 × 4 mm²` for `2 x 4 mm2`, `8 Ω` for `8 ohm`."""
    title = re.sub(r"(?<=[0-9]) x (?=[0-9])", " × ", title)
    return re.sub(r"(?<=[0-9]) (mm2|m2|m3|ohm|kohm)\b", lambda m: f" {pretty(m[1])}", title)


def _routes(texts: tuple[str, ...], ports: dict[str, Port], span: Span, findings: list[Finding]) -> Routes:
    out: list[tuple[str, str]] = []
    for text in texts:
        out += parse_route(str(text), ports, span, findings)
    return tuple(out)


def parse_route(text: str, ports: dict[str, Port], span: Span, findings: list[Finding]) -> list[tuple[str, str]]:
    """`in A -> out A`, `in 1-8 -> a 1-8`, `in A -> out A-B`: pairs of ports, in step or one to many."""
    left, arrow, right = (t.strip() for t in text.partition("->"))
    a, b = unfold(left), unfold(right)
    if not arrow or a is None or b is None:
        fix = phrase("write it as `in A -> out A`")
        findings.append(
            Finding(
                "wrong-value", Severity.ERROR, phrase("`%(route)s` is no route", route=text), Label(span), remedy=fix
            )
        )
        return []
    for name in (*a, *b):
        if name not in ports:
            close = near(name, ports)
            fix = phrase("write `%(line)s`", line=close[0]) if close else phrase("name ports of this kind")
            findings.append(
                Finding(
                    "unknown-port",
                    Severity.ERROR,
                    phrase("the route `%(route)s` names no port it has", route=text),
                    Label(span),
                    remedy=fix,
                )
            )
            return []
    if len(a) == len(b):
        return list(zip(a, b, strict=True))
    return [(x, y) for x in a for y in b]
