"""What is not believed while the signal goes wrong ways.

Levels, crossovers, delays and loads are computed for the way that the plan describes. Where a routing check says that
a speaker hears the wrong thing or nothing, what was computed for it, for its like and for the room it plays to is a
consequence, and told only once the way is right.
"""

from __future__ import annotations

from rigbook.checks.catalogue import names
from rigbook.findings.finding import Finding
from rigbook.graph.gaps import UNKNOWN, names_of
from rigbook.graph.kinds import WIRES, bus_node
from rigbook.graph.rig import Rig
from rigbook.plan.model import Cable

MISLED = (
    "orphan-output",
    "unfed-output",
    "silent-speaker",
    "orphan-bus",
    "double-routed-speaker",
    "two-into-one",
    "shared-output",
    "swapped-sides",
    "wrong-box",
    "main-in-monitor",
    "link-missing",
    "signal-loop",
    "box-not-joined",
    "wrong-direction",
    "cable-twice",
    "run-beside",
    "bridge-misuse",
    "outside-room",
    "pair-uneven",
    "aimed-away",
    "limiter-astray",
)
"""Checks that say that a speaker does not get what it should."""
COMPUTED = ("loudspeakers", "places")
"""Groups whose checks compute what a speaker gets or gives."""
ALSO = ("exposure-over-limit",)
ELECTRICAL = ("amp-underload", "bridge-misuse")
"""Whatever is played: what hangs on an amplifier overloads it just as well when it hears the wrong thing."""
MECHANICAL = ("stand-overload", "hang-without-safety")
"""What hangs or stands above people, whatever it hears."""
AMISS = ("outside-room", "pair-uneven", "aimed-away", "limiter-astray")
"""What is typed of a place or a limiter itself: levels and delays reckoned from it are its consequences."""
PLACED = frozenset({"kind", "at", "aim", "tilt"})
"""Keys of a speaker without which nothing can be computed for the room it plays to."""
OWN_WAY = ("sub-full-range", "top-without-low-cut", "filtered-twice")
"""About the way to the boxes that they name, and no others: a twin that stays silent does not make them doubtful."""


def believed(rig: Rig, findings: list[Finding]) -> list[Finding]:
    """The findings without those about speakers, amplifiers and rooms that hear the wrong thing."""
    named = {o for f in findings if f.check in MISLED for o in f.objects}
    named |= {n for g in rig.gaps if g.start and g.start.why == UNKNOWN for n in names_of(g.wants)}
    named |= {box for box in rig.boxes if rig.plan.units[box].record.broken & PLACED}
    named |= {b for c in rig.plan.cables for leg in _to_unknown(rig, c) for b in rig.boxes_of(leg)}
    lost = [c for c in rig.plan.cables if rig.plan.unresolved & {c.start.id, c.start.unit}]
    named |= {b for c in lost for b in rig.boxes_of(c.end.id)}
    if not named:
        return findings
    boxes = named & set(rig.boxes)
    boxes |= {b for box in boxes for leg in _same_bus(rig, box) for b in rig.boxes_of(leg)}
    alike = {k for b in boxes if (k := _kind(rig, b))}
    doubtful = named | {b for b in rig.boxes if _kind(rig, b) in alike} | _before(rig, boxes)
    house = any(not _wedge(rig, b) for b in boxes | _spares(rig, named))
    groups = names()
    return [
        f
        for f in findings
        if not (groups.get(f.check) in COMPUTED or f.check in ALSO)
        or f.check in (*ELECTRICAL, *AMISS)
        or not (f.objects & (named if f.check in OWN_WAY else doubtful) or (house and not _things(rig, f)))
    ]


def _to_unknown(rig: Rig, cable: Cable) -> tuple[str, ...]:
    """The bus legs that a cable brings to what is probably a speaker, of a kind that is not known."""
    unit = rig.plan.units.get(cable.end.unit)
    return rig.legs_of(cable.start.id) if unit is not None and unit.kind is None else ()


def _spares(rig: Rig, named: set[str]) -> set[str]:
    """Speakers marked as spares at which a signal ends: the room is reckoned without them until that is put right."""
    ends = (unit for n in named if (unit := rig.plan.units.get(n.partition("/")[0])) is not None and "/" in n)
    return {unit.name for unit in ends if unit.spare and unit.is_speaker}


def _same_bus(rig: Rig, box: str) -> list[str]:
    """Every leg of the buses that a box hears."""
    buses = [rig.net.nodes[leg]["bus"] for leg in rig.legs_of(box)]
    return list(dict.fromkeys(bus_node(b.desk, b.name, leg) for b in buses for leg in b.legs))


def _before(rig: Rig, boxes: set[str]) -> set[str]:
    """The sockets and units through which boxes are fed, back to the socket of the bus."""
    seen, todo = set(boxes), list(boxes)
    while todo:
        for edge, data in rig.edges_in(todo.pop()):
            if data["kind"] in WIRES and edge[0] not in seen:
                seen.add(edge[0])
                todo.append(edge[0])
    return seen | {rig.net.nodes[n]["unit"] for n in seen}


def _kind(rig: Rig, box: str) -> str:
    kind = rig.plan.units[box].kind
    return kind.name if kind else ""


def _wedge(rig: Rig, box: str) -> bool:
    kind = rig.plan.units[box].kind
    return bool(kind and kind.get("box") == "wedge")


def _things(rig: Rig, finding: Finding) -> bool:
    """True where a finding names a unit or socket; false where it is about the room."""
    return any(o in rig.plan.units or o in rig.net for o in finding.objects)
