"""Names of sockets to sockets that exist: runs unfolded, missing ports filled in, wrong names answered."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.findings.suggest import near, only_figures_differ
from rigbook.language.values.names import SocketRef, unfold
from rigbook.plan.model import Port, Socket, Unit
from rigbook.plan.words import write_one_of
from rigbook.records import changing, field
from rigbook.text.phrase import joined, phrase

TAKES = MappingProxyType(
    {
        "speaker": ("speaker", "100 V line"),
        "network": ("network",),
        "digital": ("digital",),
        "mains": ("mains",),
        "mic": ("mic", "line", "mic or line", "instrument", "headphone"),
        "line": ("mic", "line", "mic or line", "instrument", "headphone"),
        "mic or line": ("mic", "line", "mic or line", "instrument", "headphone"),
    }
)
"""By what a cable is built to carry: the levels of the ports that it is probably meant for."""


UNIT: Final = phrase("unit")
COMES: Final = phrase("no signal comes out of `%(unit)s`")
GOES: Final = phrase("no signal goes into `%(unit)s`")
MANY = 4
"""Lines with an unknown port of one unit from which on its kind is taken to be wrong."""


@changing
class Sockets:
    """Resolves sockets against the units of the plan."""

    units: Mapping[str, Unit]
    findings: list[Finding] = field(default_factory=list)
    unresolved: set[str] = field(default_factory=set)
    """Names that nothing is near to. What hangs on them is not judged."""
    taken: set[Socket] = field(default_factory=set)

    def unit(self, name: str, span: Span, what: str = UNIT) -> Unit | None:
        """The unit of a name; a near one after a finding; else None."""
        got = self.units.get(name)
        if got is not None:
            return got
        dotted = self._dotted(name)
        close = () if dotted else near(name, self.units)
        if dotted or close:
            fix = write_one_of(dotted or close)
        else:
            fix = (
                phrase("name it under `units:` (there are %(names)s)", names=listed(self.units))
                if self.units
                else phrase("name it under `units:`")
            )
        # another of its kind (`wedge-5` of four) is offered, but not taken for the one that was meant
        got = self.units[close[0]] if close and not only_figures_differ(name, close[0]) else None
        if got is None:
            self.unresolved.add(name)
        place = span.within(0, len(name)) if span.line == span.end_line else span
        self._add("unknown-name", place, phrase("there is no %(what)s `%(name)s`", what=what, name=name), fix, name)
        return got

    def _dotted(self, name: str) -> tuple[str, ...]:
        """Sockets that a unit and a number without a slash may mean: `desk.3` or `desk 3` for `desk/line 3`."""
        stem, dot, rest = name.rpartition(".")
        if not dot and name.rpartition("-")[2].isdecimal():
            stem, dot, rest = name.rpartition("-")
        unit = self.units.get(stem) if dot else None
        if unit is None:
            return ()
        ports = unit.kind.ports if unit.kind else {}
        fits = [p for p in ports if rest.casefold() in (p.casefold(), p.rpartition(" ")[2].casefold())]
        return tuple(f"{stem}/{p}" for p in fits[:3]) or (f"{stem}/{rest}",)

    def ports(self, ref: SocketRef, direction: str, carries: str = "line", panel: str = "") -> list[Socket]:
        """The sockets that a reference stands for; empty after a finding.

        `direction` is `in` where the signal goes into the socket, `out` where it comes out of it. `panel` is the way of
        the sockets that a bare number means: of a desk, a channel listens to what others plug into.
        """
        unit = self.unit(ref.unit, ref.span)
        if unit is None or unit.kind is None:
            owner = unit.name if unit else ref.unit
            return [Socket(owner, p) for p in unfold(ref.port or "?") or (ref.port,)] if direction else []
        if not ref.port:
            name = self._default(unit, direction, carries, ref)
            return [Socket(unit.name, name)] if name else []
        names = unfold(ref.port)
        if names is None:
            meant = _turned(ref.port)
            fix = (
                phrase("write `%(line)s`: runs go from low to high", line=f"{unit.name}/{meant}")
                if meant
                else phrase("write a run from low to high, such as `in 1-8`")
            )
            self._add("wrong-value", ref.span, phrase("`%(port)s` is no run of sockets", port=ref.port), fix, unit.name)
            names = unfold(meant) if meant else None
            if names is None:
                return []
        if ref.port in unit.kind.ports:
            names = [ref.port]
        told = len(self.findings)
        out = [Socket(unit.name, got) for n in names if (got := self._port(unit, n, ref, panel or direction))]
        # a run of sockets is mistyped once, whatever it unfolds to
        if len({f.check for f in self.findings[told:]}) == 1:
            del self.findings[told + 1 :]
        return out

    def _port(self, unit: Unit, name: str, ref: SocketRef, way: str) -> str | None:
        assert unit.kind is not None
        if name in unit.kind.ports:
            return name
        ports = unit.kind.ports
        close = near(name, ports) or _same_number(name, ports) or _bare_number(name, ports, way)
        stem, last = _last(name, ports)
        if last:
            message = phrase(
                "`%(unit)s` has no `%(name)s`: its `%(stem)s` sockets end at %(last)s",
                unit=unit.name,
                name=name,
                stem=stem,
                last=last,
            )
            fix: str = phrase(
                "write a socket up to `%(last)s`, or take a bigger kind than `%(kind)s`",
                last=f"{unit.name}/{stem} {last}",
                kind=unit.kind.name,
            )
            self._add("over-capacity", _port_span(ref), message, fix, unit.name)
            self.unresolved.add(f"{unit.name}/{name}")
            return name
        stemmed = [p for p in ports if p.rpartition(" ")[0] == name]
        if len(stemmed) > 1:
            names = listed([f"{unit.name}/{p}" for p in stemmed])
            message = phrase("`%(name)s` does not say which socket", name=f"{unit.name}/{name}")
            which = phrase("write which one: %(names)s", names=names)
            self._add("port-unsaid", _port_span(ref), message, which, unit.name)
            self.unresolved.add(f"{unit.name}/{name}")
            return name
        fix = phrase("write `%(line)s`", line=f"{unit.name}/{close[0]}") if close else _has(unit)
        self._add(
            "unknown-port",
            _port_span(ref),
            phrase("`%(unit)s` has no port `%(name)s`", unit=unit.name, name=name),
            fix,
            unit.name,
        )
        if not close:
            self.unresolved.add(f"{unit.name}/{name}")
        return close[0] if close else name

    def _default(self, unit: Unit, direction: str, carries: str, ref: SocketRef) -> str | None:
        assert unit.kind is not None
        levels = TAKES.get(carries, (carries,))
        fits = [p for p in unit.kind.ports.values() if p.direction in (direction, "both") and p.level in levels]
        fits = fits or [
            p for p in unit.kind.ports.values() if p.direction in (direction, "both") and p.level != "mains"
        ]
        free = [p for p in fits if Socket(unit.name, p.name) not in self.taken]
        names = list(dict.fromkeys(p.name for p in fits))
        if len(free) == 1 or (free and _paired(free)):
            return free[0].name
        if fits and not free:
            return fits[0].name
        if not fits:
            none = COMES if direction == "out" else GOES
            self._add(
                "wrong-direction",
                ref.span,
                phrase(none, unit=unit.name),
                phrase("swap the ends of the cable"),
                unit.name,
            )
            self.unresolved.add(f"{unit.name}/?")
            return None
        fix = phrase("write which one: %(names)s", names=listed([f"{unit.name}/{n}" for n in names]))
        self._add(
            "port-unsaid",
            ref.span,
            phrase("`%(unit)s` has %(count)s sockets that fit", unit=unit.name, count=len(names)),
            fix,
            unit.name,
        )
        return free[0].name

    def _add(self, check: str, span: Span, message: str, remedy: str, name: str) -> None:
        objects = frozenset({name, *self._spoken_for(name)})
        self.findings.append(Finding(check, Severity.ERROR, message, Label(span), remedy=remedy, objects=objects))

    def _spoken_for(self, name: str) -> Iterable[str]:
        """The sockets of a unit: what is missing at one of them is the one that could not be read. A stage box has
        too many for that.
        """
        unit = self.units.get(name)
        if unit is None or unit.kind is None or unit.family in ("desk", "stage box", "splitter", "tie line"):
            return ()
        return (f"{name}/{port}" for port in unit.kind.ports)


def by_unit(findings: list[Finding], units: Mapping[str, Unit]) -> list[Finding]:
    """Where many lines name ports that one unit does not have, its kind is the mistake: one finding for all of them."""
    lines: dict[str, list[Finding]] = {}
    for f in findings:
        unit = next((o for o in f.objects if o in units), "")
        if f.check == "unknown-port" and unit:
            lines.setdefault(unit, []).append(f)
    merged = {unit: found for unit, found in lines.items() if len(found) >= MANY}
    gone = {id(f) for found in merged.values() for f in found}
    return [*(f for f in findings if id(f) not in gone), *(_of_unit(units[u], found) for u, found in merged.items())]


def _of_unit(unit: Unit, found: list[Finding]) -> Finding:
    kind = unit.kind.name if unit.kind else ""
    ports = unit.kind.ports if unit.kind else {}
    fix = phrase("name the kind that `%(unit)s` is, or the ports that a `%(kind)s` has", unit=unit.name, kind=kind)
    if all(f.remedy != _has(unit) for f in found):
        fix = phrase("%(fix)s, and the other lines likewise", fix=found[0].remedy)
    return Finding(
        "unknown-port",
        Severity.ERROR,
        phrase("%(count)s lines name ports that `%(unit)s` does not have", count=len(found), unit=unit.name),
        Label(unit.record.at("kind"), phrase("a `%(kind)s` has %(names)s", kind=kind, names=listed(ports, 4))),
        tuple(f.primary for f in found),
        remedy=fix,
        objects=frozenset().union(*(f.objects for f in found)),
    )


def _has(unit: Unit) -> str:
    """What to choose from where a unit has no such port."""
    assert unit.kind is not None
    if not unit.kind.ports:
        return phrase("write its sockets under `ports:` of the kind `%(kind)s`", kind=unit.kind.name)
    return phrase("it has %(names)s", names=listed(unit.kind.ports))


def _turned(port: str) -> str:
    """`out 10-9` as the run that it probably is, `out 9-10`; empty where it is none either way."""
    m = re.fullmatch(r"(.*?)(\d{1,9}|[A-Z]) ?[-–] ?(\d{1,9}|[A-Z])", port)
    return f"{m[1]}{m[3]}-{m[2]}" if m and m[2] != m[3] and unfold(f"{m[1]}{m[3]}-{m[2]}") else ""


def _paired(ports: list[Port]) -> bool:
    """An input and its link-through are the same pair of wires: the first one is meant."""
    return len(ports) == 2 and {p.name.split()[0] for p in ports} == {"in", "link"}


def _port_span(ref: SocketRef) -> Span:
    start = len(ref.unit) + 1
    return ref.span.within(start, len(ref.port)) if ref.span.line == ref.span.end_line else ref.span


def _same_number(name: str, ports: Mapping[str, Port]) -> tuple[str, ...]:
    """For `input 3`: the ports numbered so that go the way the word says, else none."""
    word, _, number = name.rpartition(" ")
    way = next((d for d in ("in", "out") if word.startswith(d)), "in" if word in ("channel", "ch", "mic") else "")
    fits = [p.name for p in ports.values() if p.name.rpartition(" ")[2] == number and p.direction == way]
    return (fits[0],) if word and len(fits) == 1 else ()


def _bare_number(name: str, ports: Mapping[str, Port], way: str) -> tuple[str, ...]:
    """For `1` of `desk/1`: the one port with that number that signal passes that way, else none."""
    fits = [p.name for p in ports.values() if p.name.rpartition(" ")[2] == name and p.direction in (way, "both")]
    return (fits[0],) if name.isdecimal() and len(fits) == 1 else ()


def _last(name: str, ports: Mapping[str, Port]) -> tuple[str, int]:
    """For `in 17` of a box with `in 1` to `in 16`: `in` and 16; else nothing and 0."""
    stem, _, number = name.rpartition(" ")
    if not re.fullmatch(r"\d{1,9}", number):
        return "", 0
    ends = [p.rpartition(" ") for p in ports]
    have = [int(last) for head, _, last in ends if head == stem and last.isdecimal()]
    return (stem, max(have)) if have and int(number) > max(have) else ("", 0)


def listed(names: Mapping[str, object] | list[str] | set[str], most: int = 8) -> str:
    """Names in backticks, the first few of many."""
    all_names = list(names)
    shown = joined(f"`{n}`" for n in all_names[:most])
    more = len(all_names) - most
    return phrase("%(names)s and %(number)s more", names=shown, number=more) if more > 0 else shown
