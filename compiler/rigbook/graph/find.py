"""From what a person types to the thing of the rig that is meant."""

from __future__ import annotations

from rigbook.findings.suggest import near
from rigbook.graph import kinds as k
from rigbook.graph.codes import bare, codes
from rigbook.graph.rig import Rig
from rigbook.graph.words import node_words
from rigbook.records import frozen


@frozen
class Found:
    """The things a text may mean. `answer` is what to say where that is not exactly one."""

    matches: tuple[str, ...]
    """Nodes of the graph; `sheath …` for a cable."""
    answer: tuple[str, ...] = ()


def find_node(rig: Rig, text: str) -> Found:
    """The node (or `sheath NAME`) that a text names: exactly, or by what is written on it."""
    typed = " ".join(text.split())
    if typed in rig.net:
        return Found((typed,))
    sheaths, labels, names = _called(rig)
    if typed in sheaths:
        return Found((f"sheath {typed}",))
    if typed in labels:
        return Found((f"sheath {labels[typed]}",))
    same = names.get(typed.lower(), [])
    if not same and bare(typed) in labels:
        return Found((f"sheath {labels[bare(typed)]}",))
    if len(same) == 1:
        return Found((same[0],))
    if same:
        head = f"`{text}` names {len(same)} things, write one of:"
        return Found(tuple(same), (head, *(f"  {node}    ({node_words(rig, node)})" for node in same)))
    close = near(typed.lower(), names, 5)
    if close:
        return Found((), (f"there is no `{text}` in this plan, did you mean:", *(f"  {c}" for c in close)))
    return Found(
        (),
        (f"there is no `{text}` in this plan", "name a speaker, a socket (`box/out 3`), `channel 7`, a bus or a cable"),
    )


def _called(rig: Rig) -> tuple[set[str], dict[str, str], dict[str, list[str]]]:
    """Sheaths, codes with their sheaths, other names with their nodes; made once, as notes may hold many names."""
    # kept with the rig, like its own cached properties, so that both go together
    got = rig.__dict__.get("_called")
    if got is None:
        cables = rig.plan.cables
        labels = {bare(code): sheath for sheath, code in codes(rig.plan).items()}
        labels |= {c.label: c.sheath for c in cables if c.label}
        got = rig.__dict__["_called"] = ({c.sheath for c in cables}, labels, _names(rig))
    return got


def _names(rig: Rig) -> dict[str, list[str]]:
    """Everything a thing may be called, in small letters, with the nodes that are called so."""
    out: dict[str, list[str]] = {}

    def add(name: str, node: str) -> None:
        if node not in out.setdefault(name.lower(), []):
            out[name.lower()].append(node)

    for node, data in rig.net.nodes.items():
        kind = data["kind"]
        if kind == k.CHANNEL:
            channel = data["channel"]
            for name in (f"channel {channel.number}", f"channel {channel.number} {data['leg']}", channel.name):
                add(name.rstrip(), node)
        elif kind == k.BUS:
            bus = data["bus"]
            for name in (bus.name, f"{bus.name} {data['leg']}", f"bus {bus.name}", bus.title):
                add(name.rstrip(), node)
        elif kind != k.SOURCE:
            add(node, node)
            if kind in (k.BOX, k.SINK):
                unit = rig.plan.units.get(node)
                add(unit.title if unit else node, node)
            elif data["unit"]:
                unit = rig.plan.units.get(data["unit"])
                if unit and not unit.is_speaker and unit.family not in ("recorder", "feed"):
                    add(data["unit"], node)
    return out
