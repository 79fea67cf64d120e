"""What may be wrong with the sends of channels and buses: closed, taken on the wrong side of the fader, panned."""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType
from typing import Any, Final

from rigbook.graph import kinds as k
from rigbook.graph.rig import Edge
from rigbook.graph.words import PICKS
from rigbook.language.values.sends import Send
from rigbook.plan.model import Channel
from rigbook.text.phrase import phrase
from rigbook.walk.fault import Bench, Fault, Sight, Thing, cut
from rigbook.walk.input_faults import channel_thing, title
from rigbook.walk.step import name_of
from rigbook.walk.wires import Change

Sends = list[tuple[int, Edge]]


def send_faults(bench: Bench) -> Iterator[Fault]:
    """Sends closed or with the wrong pick-off; a mono source panned to one side."""
    groups: dict[tuple[str, int], Sends] = {}
    what: dict[int, Any] = {}
    for i, edge, data in bench.of_kind(k.SEND):
        groups.setdefault((_whose(bench, edge[0]), id(data["send"])), []).append((i, edge))
        what[i] = data
    for (whose, _), wires in groups.items():
        data = what[wires[0][0]]
        tail = bench.rig.net.nodes[wires[0][1][0]]
        channel = tail.get("channel")
        thing = channel_thing(bench.rig, channel) if isinstance(channel, Channel) else Thing("bus", whose)
        yield from _send(bench, whose, data["send"], data["pick"], [i for i, _ in wires], thing)
        if isinstance(channel, Channel) and not channel.stereo and len({e[1] for _, e in wires}) == 2:
            yield from _panned(bench, whose, data["send"].bus, wires, thing)


def _send(bench: Bench, whose: str, send: Send, pick: str, numbers: list[int], thing: Thing) -> Iterator[Fault]:
    """One send, closed or with the wrong pick-off."""
    look, target = f"sends|{whose}", f"{send.bus} {send.leg}".rstrip()
    yield Fault(
        f"send off {whose} to {send.bus} {send.leg}",
        "send closed",
        phrase("the send of `%(whose)s` to `%(bus)s` is closed", whose=whose, bus=send.bus),
        phrase("look at the send of `%(whose)s` to `%(bus)s` on the desk", whose=whose, bus=send.bus),
        (thing,),
        "",
        1.0,
        4.0,
        cut(*numbers),
        (Sight("setting", look, f"closed to|{target}"),),
    )
    wrong = "post" if pick == "pre" else "pre"
    yield Fault(
        f"send pick-off {whose} to {send.bus} {send.leg}",
        "send pick-off wrong",
        phrase("the send of `%(whose)s` to `%(bus)s` is %(pick)s", whose=whose, bus=send.bus, pick=PICKS[wrong]),
        phrase(
            "look at the send of `%(whose)s` to `%(bus)s`: it must be %(pick)s",
            whose=whose,
            bus=send.bus,
            pick=PICKS[pick],
        ),
        (thing,),
        "",
        1.0,
        3.0,
        Change({i: bench.wires.wires[i]._replace(pick=wrong) for i in numbers}),
        (Sight("setting", look, f"{wrong}-fader to|{target}"),),
    )


PANNED: Final = MappingProxyType(
    {
        "left": phrase("`%(whose)s` is panned hard left in `%(bus)s`"),
        "right": phrase("`%(whose)s` is panned hard right in `%(bus)s`"),
    }
)


def _panned(bench: Bench, whose: str, bus: str, wires: Sends, thing: Thing) -> Iterator[Fault]:
    for i, edge in wires:
        lost = bench.rig.net.nodes[edge[1]]["leg"]
        to = "right" if lost == "left" else "left"
        yield Fault(
            f"panned {to} {whose} {bus}",
            "source panned",
            phrase(PANNED[to], whose=whose, bus=bus),
            phrase("look at the pan of `%(whose)s`", whose=whose),
            (thing,),
            "",
            1.0,
            4.0,
            cut(i),
            (Sight("setting", f"sends|{whose}", f"pan {to}"),),
        )


def _whose(bench: Bench, node: str) -> str:
    data = bench.rig.net.nodes[node]
    if data["kind"] == k.CHANNEL:
        return title(bench.rig, data["channel"])
    return name_of(bench.rig, data["bus"].desk, data["bus"].name)
