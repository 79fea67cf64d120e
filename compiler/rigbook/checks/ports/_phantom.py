"""Which channels give phantom power to which source, and whether it gets through."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rigbook.findings.place import Span
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.plan.model import Channel, Kind
from rigbook.records import frozen

PASSIVE: Final = ("splitter", "tie line")
LINE: Final = "line"
"""What an active output does with phantom power where its kind says nothing: it was not made for it."""


@frozen
class Reach:
    """A channel that hears a source, and whether phantom power goes the way back."""

    channel: Channel
    blocked_at: str
    """The socket that lets none through; empty where it passes."""

    @property
    def on(self) -> bool:
        """The channel has phantom power switched on."""
        return bool(self.channel.record.get("phantom"))


@frozen
class Origin:
    """A microphone, DI or active output, with every channel that hears it."""

    name: str
    kind: Kind
    wants: str
    """`needs`, `takes`, `refuses`; `line` of an active output whose kind says nothing."""
    span: Span
    channel: Channel | None
    """The channel that names it as its source."""
    reaches: tuple[Reach, ...]


def origins(rig: Rig) -> tuple[Origin, ...]:
    """Every source that some channel hears, each once; made once for the three checks that ask."""
    # kept with the rig, like its own cached properties, so that both go together
    got = rig.__dict__.get("_phantom")
    if got is None:
        got = rig.__dict__["_phantom"] = (*_sources(rig), *_units(rig))
    return got


def _sources(rig: Rig) -> Iterator[Origin]:
    seen: set[tuple[str, ...]] = set()
    for channel in rig.plan.channels:
        nodes = tuple(s.id for s in channel.plugged)
        if channel.source_kind is None or not nodes or nodes in seen:
            continue
        seen.add(nodes)
        wants = channel.source_kind.get("phantom") or (LINE if channel.source_key == "line" else "takes")
        reaches = _reaches(rig, nodes)
        if reaches:
            span = channel.record.at(channel.source_key)
            yield Origin(channel.name, channel.source_kind, str(wants), span, channel, reaches)


def _units(rig: Rig) -> Iterator[Origin]:
    for unit in rig.plan.units.values():
        if unit.kind is None or unit.spare or unit.family in PASSIVE:
            continue
        wants = unit.kind.get("phantom") or ("takes" if unit.family in ("microphone", "di") else LINE)
        for port in unit.kind.ports.values():
            node = f"{unit.name}/{port.name}"
            if port.direction == "out" and node in rig.net:
                cables = [(e[1], d["cable"]) for e, d in rig.edges_out(node) if d["kind"] == k.CABLE]
                reaches = _reaches(rig, tuple(end for end, _ in cables))
                if reaches:
                    yield Origin(node, unit.kind, str(wants), cables[0][1].start_span, None, reaches)


def _reaches(rig: Rig, nodes: tuple[str, ...]) -> tuple[Reach, ...]:
    """Channels that hear what is plugged into some sockets, over cables and passive units."""
    out: list[Reach] = []
    seen = set(nodes)
    todo = [(n, "") for n in nodes]
    while todo:
        node, blocked = todo.pop(0)
        for edge, data in rig.edges_out(node):
            after = edge[1]
            port = rig.net.nodes[after].get("port")
            if data["kind"] == k.LISTEN:
                own = rig.net.nodes[node].get("port")
                at = blocked or ("" if own is None or own.phantom else node)
                if not any(r.channel is data["channel"] for r in out):
                    out.append(Reach(data["channel"], at))
            elif after not in seen and (data["kind"] == k.CABLE or _is_passive(rig, node)):
                seen.add(after)
                # a tie line is copper throughout; a splitter says of each output whether it passes
                stops = _is_passive(rig, after, "splitter") and port is not None and port.direction == "out"
                todo.append((after, blocked or (after if stops and port and not port.phantom else "")))
    return tuple(out)


def _is_passive(rig: Rig, node: str, *families: str) -> bool:
    unit = rig.unit(node)
    return unit is not None and unit.family in (families or PASSIVE)
