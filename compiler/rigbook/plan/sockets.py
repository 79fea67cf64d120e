"""Names of sockets to sockets that exist: runs unfolded, missing ports filled in, wrong names answered."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.findings.suggest import near
from rigbook.language.values.names import SocketRef, unfold
from rigbook.plan.model import Port, Socket, Unit
from rigbook.records import changing, field

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

    def unit(self, name: str, span: Span, what: str = "unit") -> Unit | None:
        """The unit of a name; a near one after a finding; else None."""
        got = self.units.get(name)
        if got is not None:
            return got
        close = near(name, self.units)
        if close:
            fix = f"write {' or '.join(f'`{c}`' for c in close)}"
        else:
            fix = f"name it under `units:` (there are {listed(self.units)})" if self.units else "name it under `units:`"
            self.unresolved.add(name)
        place = span.within(0, len(name)) if span.line == span.end_line else span
        self._add("unknown-name", place, f"there is no {what} `{name}`", fix, name)
        return self.units[close[0]] if close else None

    def ports(self, ref: SocketRef, direction: str, carries: str = "line") -> list[Socket]:
        """The sockets that a reference stands for; empty after a finding.

        `direction` is `in` where the signal goes into the socket, `out` where it comes out of it.
        """
        unit = self.unit(ref.unit, ref.span)
        if unit is None or unit.kind is None:
            return [Socket(unit.name if unit else ref.unit, ref.port or "?")] if direction else []
        if not ref.port:
            name = self._default(unit, direction, carries, ref)
            return [Socket(unit.name, name)] if name else []
        names = unfold(ref.port)
        if names is None:
            fix = "write a run from low to high, such as `in 1-8`"
            self._add("wrong-value", ref.span, f"`{ref.port}` is no run of sockets", fix, unit.name)
            return []
        if ref.port in unit.kind.ports:
            names = [ref.port]
        return [Socket(unit.name, got) for n in names if (got := self._port(unit, n, ref))]

    def _port(self, unit: Unit, name: str, ref: SocketRef) -> str | None:
        assert unit.kind is not None
        if name in unit.kind.ports:
            return name
        ports = unit.kind.ports
        close = near(name, ports) or _same_number(name, ports)
        beyond = _beyond(name, ports)
        if beyond:
            message = f"`{unit.name}` has no `{name}`: its {beyond}"
            fix = f"use a socket it has, or a bigger kind than `{unit.kind.name}`"
            self._add("over-capacity", _port_span(ref), message, fix, unit.name)
            self.unresolved.add(f"{unit.name}/{name}")
            return name
        fix = f"write `{unit.name}/{close[0]}`" if close else f"it has {listed(ports)}"
        self._add("unknown-port", _port_span(ref), f"`{unit.name}` has no port `{name}`", fix, unit.name)
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
            word = "comes out of" if direction == "out" else "goes into"
            self._add(
                "wrong-direction", ref.span, f"no signal {word} `{unit.name}`", "swap the ends of the cable", unit.name
            )
            self.unresolved.add(f"{unit.name}/?")
            return None
        fix = f"write which one: {listed([f'{unit.name}/{n}' for n in names])}"
        self._add("port-unsaid", ref.span, f"`{unit.name}` has {len(names)} sockets that fit", fix, unit.name)
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
    return Finding(
        "unknown-port",
        Severity.ERROR,
        f"{len(found)} lines name ports that `{unit.name}` does not have",
        Label(unit.record.at("kind"), f"a `{kind}` has {listed(ports, 4)}"),
        tuple(f.primary for f in found),
        remedy=f"name the kind that `{unit.name}` is, or the ports that a `{kind}` has",
        objects=frozenset().union(*(f.objects for f in found)),
    )


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


def _beyond(name: str, ports: Mapping[str, Port]) -> str:
    """For `in 17` of a box with `in 1` to `in 16`: `in sockets end at 16`; else empty."""
    stem, _, number = name.rpartition(" ")
    if not number.isdigit():
        return ""
    have = [int(p.rpartition(" ")[2]) for p in ports if p.rpartition(" ")[0] == stem and p.rpartition(" ")[2].isdigit()]
    return f"`{stem}` sockets end at {max(have)}" if have and int(number) > max(have) else ""


def listed(names: Mapping[str, object] | list[str] | set[str], most: int = 8) -> str:
    """Names in backticks, the first few of many."""
    all_names = list(names)
    shown = ", ".join(f"`{n}`" for n in all_names[:most])
    return shown + (f" and {len(all_names) - most} more" if len(all_names) > most else "")
