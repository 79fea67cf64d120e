"""Single faults put into a good plan: each is a few edits of its text, with the findings that must follow.

The faults are those that `tests/checks` describes one by one; here they are made wherever a plan has room for them.
Places come from the compiled plan, so that a fault is made in whichever file of the show says the thing.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations, permutations

from rigbook.findings.place import Span
from rigbook.graph import kinds as k
from rigbook.graph.loose_ends import SPEAKER_LEVELS
from rigbook.pipeline import Compiled
from rigbook.plan.model import Bus, Cable, Channel

GAP = frozenset({"orphan-output", "unfed-output", "silent-speaker", "link-missing"})
HOUSE = ("mains", "subs", "fill", "delay", "matrix")


@dataclass(frozen=True)
class Edit:
    """Text that replaces a span of a file."""

    span: Span
    text: str


@dataclass(frozen=True)
class Mutant:
    """One fault."""

    kind: str
    what: str
    edits: tuple[Edit, ...]
    checks: frozenset[str]
    """Each new finding must be of one of these checks."""
    about: tuple[str, ...]
    """One of these must be named by each new finding."""
    count: int = 1
    """How many new findings there must be; -1: one or more."""
    own: str = ""
    """The check that must be among those that find it; empty where it depends on the rig which one it is."""


class Show:
    """A compiled show with the text of its files."""

    def __init__(self, compiled: Compiled) -> None:
        assert compiled.plan is not None
        assert compiled.rig is not None
        self.plan, self.rig, self.sources = compiled.plan, compiled.rig, compiled.sources

    def text(self, span: Span) -> str:
        """What is typed at a span of one line."""
        return self.sources[span.file].lines[span.line][span.column : span.end_column]

    def line(self, span: Span) -> str:
        """The line of a span."""
        return self.sources[span.file].lines[span.line]

    def edited(self, mutant: Mutant) -> dict[str, str]:
        """The files that a mutant changes, with their new text."""
        lines = {e.span.file: list(self.sources[e.span.file].lines) for e in mutant.edits}
        for edit in sorted(mutant.edits, key=lambda e: e.span, reverse=True):
            own, span = lines[edit.span.file], edit.span
            if span.end_line > span.line:
                del own[span.line : span.end_line]
                continue
            own[span.line] = own[span.line][: span.column] + edit.text + own[span.line][span.end_column :]
        return {file: "\n".join(own) for file, own in lines.items()}

    def single(self) -> list[Cable]:
        """Signal cables behind a bus that stand alone on their line of wiring, both ends written in one line."""
        lines: dict[Span, list[Cable]] = {}
        for cable in self.plan.cables:
            lines.setdefault(cable.span, []).append(cable)
        return [c for cs in lines.values() for c in cs if len(cs) == 1 and self.rig.legs_of(c.start.id)]

    def single_sources(self) -> list[Cable]:
        """Cables from a receiver or player that stand alone on their line."""
        lines: dict[Span, list[Cable]] = {}
        for cable in self.plan.cables:
            if self.plan.units[cable.start.unit].family in ("radio", "player"):
                lines.setdefault(cable.span, []).append(cable)
        return [cs[0] for cs in lines.values() if len(cs) == 1]

    def bus_of(self, node: str) -> Bus:
        """The bus behind a node."""
        bus = self.rig.graph.nodes[self.rig.legs_of(node)[0]]["bus"]
        assert isinstance(bus, Bus)
        return bus

    def boxes(self, cable: Cable) -> tuple[str, ...]:
        """What a cable leads to."""
        return self.rig.ends_of(cable.end.id)


def item(show: Show, span: Span) -> Edit | None:
    """Takes out an item of a list: its line, or its part of `[…]`. None where it is the only one."""
    line = show.line(span)
    if line.strip().startswith("- "):
        around = [show.sources[span.file].lines[i] for i in (span.line - 1, span.line + 1)]
        if not any(o.strip().startswith("- ") for o in around):
            return None
        return Edit(Span(span.file, span.line, 0, span.line + 1, 0), "")
    start, end = span.column, span.end_column
    while start and line[start - 1] in '" ':
        start -= 1
    while end < len(line) and line[end] in '" ':
        end += 1
    if line[start - 1] == ",":
        return Edit(Span(span.file, span.line, start - 1, span.line, end), "")
    if line[end : end + 1] == ",":
        return Edit(Span(span.file, span.line, start, span.line, end + 1), "")
    return None


def into(show: Show, span: Span, text: str) -> Edit | None:
    """Writes a key into the `{…}` that follows a name on its line."""
    line = show.line(span)
    at = line.find("{", span.end_column)
    if at < 0 or not re.fullmatch(r":\s*", line[span.end_column : at]):
        return None
    comma = "" if line[at + 1] == "}" else ", "
    return Edit(Span(span.file, span.line, at + 1, span.line, at + 1), text + comma)


def _made(
    kind: str, what: str, edits: list[Edit | None], checks: str, *about: str, count: int = 1, own: str | None = None
) -> Iterator[Mutant]:
    """A mutant, where all of its edits are possible. The first of its checks is its own, unless another is said."""
    if all(edits):
        names = tuple(checks.split())
        own = own if own is not None else names[0] if names and count else ""
        made, named = tuple(e for e in edits if e), tuple(a for a in about if a)
        yield Mutant(kind, what, made, frozenset(names), named, count, own)


def cable_removed(show: Show) -> Iterator[Mutant]:
    """A cable that was never made."""
    for cable in show.single():
        rig, port = show.rig, show.rig.graph.nodes[cable.start.id]["port"]
        first = rig.graph.nodes[cable.start.id]
        if first["socket"].port.startswith("link"):
            checks = "link-missing silent-speaker unfed-output"
        elif any(d["kind"] == k.LEAVE for _, d in rig.edges_in(cable.start.id)) or port.level in SPEAKER_LEVELS:
            checks = "orphan-output"
        else:
            checks = " ".join(GAP)
        about = (cable.start.id, cable.end.id)
        yield from _made("cable removed", cable.name, [item(show, cable.span)], checks, *about, own="")


def chain_cut(show: Show) -> Iterator[Mutant]:
    """The last hop of a chain was never made."""
    lines: dict[Span, list[Cable]] = {}
    for cable in show.plan.cables:
        lines.setdefault(cable.span, []).append(cable)
    for cables in lines.values():
        last = cables[-1]
        text = show.text(last.span)
        if text.count("->") > 1:
            head, _, tail = text.partition(",")
            shorter = head.rpartition("->")[0].rstrip() + (f",{tail}" if tail else "")
            if show.rig.boxes_of(last.end.id):
                checks = "link-missing silent-speaker unfed-output"
                about = (*show.boxes(last), last.end.id)
                yield from _made("chain cut", text, [Edit(last.span, shorter)], checks, *about, own="")


def ends_swapped(show: Show) -> Iterator[Mutant]:
    """Two cables exchanged at their far ends."""
    for a, b in combinations(show.single(), 2):
        levels = [show.rig.graph.nodes[c.start.id]["port"].level for c in (a, b)]
        kinds = [show.rig.graph.nodes[c.end.id].get("port") for c in (a, b)]
        if levels[0] != levels[1] or None in kinds or kinds[0].level != kinds[1].level:  # type: ignore[union-attr]
            continue
        checks = _after_swap(show, a, b)
        aims = [show.plan.units[c.end.unit].record for c in (a, b)]
        known = [r for r in aims if r.get("aim") is not None and show.text(r.at("aim")).startswith("at ")]
        # whose mix a wedge should hear is known where it aims at somebody: `mixes_exchanged` makes that fault
        if checks is None or (not checks and known):
            continue
        edits: list[Edit | None] = [
            Edit(a.end_span, show.text(b.end_span)), Edit(b.end_span, show.text(a.end_span)),
        ]  # fmt: skip
        about = (*show.boxes(a), *show.boxes(b))
        count = 1 if checks else 0
        yield from _made("ends swapped", f"{a.name}, {b.name}", edits, checks, *about, count=count,
                         own="" if " " in checks else None)  # fmt: skip


def _after_swap(show: Show, a: Cable, b: Cable) -> str | None:
    """What must be found; nothing where nobody can know; None where it depends on more than the two."""
    one, two = (show.bus_of(c.start.id) for c in (a, b))
    sides = [{show.rig.graph.nodes[leg]["leg"] for leg in show.rig.legs_of(c.start.id)} for c in (a, b)]
    roles = {one.role, two.role}
    if one is two:
        pair = sides[0] | sides[1] == {"left", "right"} and sides[0] != sides[1]
        return "swapped-sides" if pair and one.role in HOUSE else None
    if roles == {"monitor"}:
        kinds = [{_kind(show, e) for e in show.boxes(c) if e in show.rig.boxes} for c in (a, b)]
        return "" if not one.stereo and not two.stereo and kinds[0] == kinds[1] else None
    if roles == {"mains", "subs"} or roles == {"subs", "monitor"}:
        return "wrong-box"
    if roles == {"mains", "monitor"} and (one.stereo or two.stereo):
        return "swapped-sides main-in-monitor"
    return None


def _kind(show: Show, unit: str) -> str:
    kind = show.plan.units[unit].kind
    return kind.name if kind else ""


def bus_moved(show: Show) -> Iterator[Mutant]:
    """A bus leaves by a socket that has no cable."""
    used = {s.id for o in show.plan.outputs for s, _ in o.sockets} | {c.start.id for c in show.plan.cables}
    for output in show.plan.outputs:
        socket, span = output.sockets[0]
        kind = show.plan.units[socket.unit].kind
        assert kind is not None
        ports = [p.name for p in kind.ports.values() if p.name.startswith("out ")]
        free = next((p for p in ports if f"{socket.unit}/{p}" not in used), None)
        if free and show.rig.heard.get(socket.id):
            text = f"{socket.unit}/{free}"
            what = f"{output.name}: {text}"
            yield from _made("bus moved", what, [Edit(span, text)], "unfed-output", socket.id, text)


def bus_doubled(show: Show) -> Iterator[Mutant]:
    """A bus leaves by the socket of another."""
    for one, two in permutations(show.plan.outputs, 2):
        (socket, span), (other, _) = one.sockets[0], two.sockets[0]
        if one.desk == two.desk and show.rig.heard.get(socket.id) and show.rig.heard.get(other.id):
            checks = "double-routed-speaker two-into-one"
            about = (other.id, *show.rig.ends_of(other.id))
            yield from _made("bus doubled", f"{one.name}: {other.id}", [Edit(span, other.id)], checks, *about, own="")


def sides_exchanged(show: Show) -> Iterator[Mutant]:
    """The two sides of a bus leave by each other's socket."""
    for one, two in combinations(show.plan.outputs, 2):
        bus = show.plan.buses[one.desk, one.bus]
        if (one.desk, one.bus) == (two.desk, two.bus) and {one.leg, two.leg} == {"left", "right"}:
            (a, first), (b, second) = one.sockets[0], two.sockets[0]
            # a recorder, feed or transmitter numbers its inputs from the left
            sink = not show.rig.boxes_of(a.id) and show.rig.ends_of(a.id) == show.rig.ends_of(b.id) != ()
            found = (bus.role in HOUSE and bool(show.rig.boxes_of(a.id))) or sink
            checks = "swapped-sides" if found else ""
            edits: list[Edit | None] = [Edit(first, b.id), Edit(second, a.id)]
            about = show.rig.ends_of(a.id) if sink else show.rig.boxes_of(a.id)
            yield from _made("sides exchanged", bus.name, edits, checks, *about, count=int(found))


def output_removed(show: Show) -> Iterator[Mutant]:
    """A bus, or one side of it, has no line under `outputs`."""
    for output in show.plan.outputs:
        line = show.line(output.span)
        here = output.span.file == output.sockets[0][1].file
        if here and line.strip().startswith(show.text(output.span)):
            gone = Edit(Span(output.span.file, output.span.line, 0, output.span.line + 1, 0), "")
            about = (output.bus, output.sockets[0][0].id)
            yield from _made("output removed", output.name, [gone], "orphan-bus unfed-output", *about, own="")


def input_doubled(show: Show) -> Iterator[Mutant]:
    """A cable goes into the input of another."""
    for a, b in permutations(show.single(), 2):
        ports = [show.rig.graph.nodes[c.end.id].get("port") for c in (a, b)]
        starts = [show.rig.graph.nodes[c.start.id]["port"] for c in (a, b)]
        if all(ports) and ports[0].connector == ports[1].connector and starts[0].level == starts[1].level:  # type: ignore[union-attr]
            edit = Edit(a.end_span, b.end.id)
            yield from _made("input doubled", f"{a.name} -> {b.end.id}", [edit], "two-into-one", b.end.id)


def output_doubled(show: Show) -> Iterator[Mutant]:
    """A cable comes from the output of another."""
    for a, b in permutations(show.single(), 2):
        levels = [show.rig.graph.nodes[c.start.id]["port"].level for c in (a, b)]
        link = any(c.start.port.startswith("link") for c in (a, b))
        if levels[0] == levels[1] and a.start.id != b.start.id and not link:
            edit = Edit(a.start_span, b.start.id)
            about = (a.start.id, b.start.id)
            # two boxes on one amplifier channel overload it, whatever is played
            loud = show.rig.graph.nodes[b.start.id]["port"].level in SPEAKER_LEVELS
            checks = "orphan-output shared-output" + (" amp-underload" if loud else "")
            yield from _made(
                "output doubled", f"{b.start.id} -> {a.end.id}", [edit], checks, *about, count=-1 if loud else 1, own=""
            )


def unit_misspelt(show: Show) -> Iterator[Mutant]:
    """A unit's name with two letters exchanged; and one that is like no other."""
    for cable in show.single():
        text = show.text(cable.end_span)
        name = cable.end.unit
        if len(name) > 4 and len(set(name[1:3])) > 1:
            typed = name[0] + name[2] + name[1] + name[3:]
            edit = Edit(cable.end_span, text.replace(name, typed, 1))
            yield from _made("unit misspelt", f"{cable.name}: {typed}", [edit], "unknown-name", typed)
        other = "xyloid" + text[len(name) :]
        yield from _made("unit unheard of", cable.name, [Edit(cable.end_span, other)], "unknown-name", "xyloid")


def send_misspelt(show: Show) -> Iterator[Mutant]:
    """A send to a bus that is not there."""
    for channel in show.plan.channels:
        for send in channel.sends[:1]:
            if len(send.bus) > 3 and show.text(send.span).startswith(send.bus):
                typed = send.bus[0] + send.bus[2] + send.bus[1] + send.bus[3:]
                edit = Edit(send.span, show.text(send.span).replace(send.bus, typed, 1))
                yield from _made("send misspelt", f"{channel.name} to {typed}", [edit], "unknown-name", typed)


def port_misspelt(show: Show) -> Iterator[Mutant]:
    """A port that the unit does not have; a socket beyond its last."""
    for cable in show.single():
        text = show.text(cable.start_span)
        if "/" in text:
            edit = Edit(cable.start_span, f"{cable.start.unit}/quux 7")
            yield from _made("port unheard of", cable.name, [edit], "unknown-port", "quux")
    for channel in show.plan.channels:
        span = channel.record.at("from")
        # the others of its block would follow, and phantom power be looked for elsewhere
        number = channel.sockets[0].port.rpartition(" ")[2] if channel.sockets else ""
        steady = number.isdigit() and (int(number) - channel.number) % 8 == 0 and not channel.record.get("phantom")
        if "+" not in show.text(span) and steady:
            socket = f"{channel.sockets[0].unit}/{channel.sockets[0].port.rpartition(' ')[0]} 99"
            yield from _made("desk too short", f"{channel.name}: {socket}", [Edit(span, socket)], "over-capacity", "99")


def monitor_post(show: Show) -> Iterator[Mutant]:
    """A monitor mix after the faders."""
    for bus in show.plan.buses.values():
        if bus.role == "monitor":
            edit = into(show, bus.span, "sends: post")
            yield from _made("monitor post-fader", bus.name, [edit], "monitor-after-fader", bus.name)
    for channel, bus, span in _sends(show):
        if bus.role == "monitor":
            edit = Edit(span, show.text(span) + " post")
            yield from _made("send post-fader", f"{channel.name}: {bus.name}", [edit], "monitor-after-fader", bus.name)


def effect_pre(show: Show) -> Iterator[Mutant]:
    """An effect before the fader."""
    for channel, bus, span in _sends(show):
        if bus.role == "effects":
            edit = Edit(span, show.text(span) + " pre")
            yield from _made("send pre-fader", f"{channel.name}: {bus.name}", [edit], "effects-before-fader", bus.name)


def _sends(show: Show) -> Iterator[tuple[Channel, Bus, Span]]:
    for channel in show.plan.channels:
        for send in channel.sends:
            yield channel, show.plan.buses[channel.desk, send.bus], send.span


def send_doubled(show: Show) -> Iterator[Mutant]:
    """The same send twice."""
    for channel, bus, span in _sends(show):
        if len(channel.sends) > 1:
            edit = Edit(span, f"{show.text(span)}, {bus.name} -20 dB")
            yield from _made("send doubled", f"{channel.name}: {bus.name}", [edit], "sent-twice", bus.name)


def channel_muted(show: Show) -> Iterator[Mutant]:
    """A channel that the plan mutes."""
    for channel in show.plan.channels:
        edit = into(show, channel.span, "muted: yes")
        yield from _made("channel muted", channel.name, [edit], "sends-to-nowhere", channel.name)


def voice_in_subs(show: Show) -> Iterator[Mutant]:
    """A voice in the subs."""
    subs = {b.desk: b.name for b in show.plan.buses.values() if b.role == "subs"}
    for channel in show.plan.channels:
        if channel.kind_of_source in ("speech", "vocal") and channel.desk in subs and len(channel.sends) > 1:
            span = channel.sends[0].span
            edit = Edit(span, f"{show.text(span)}, {subs[channel.desk]} -6 dB")
            yield from _made("voice in the subs", channel.name, [edit], "sub-for-speech", channel.name)


def talker_to_the_stage(show: Show) -> Iterator[Mutant]:
    """A talker that the audience hears, written as talkback."""
    for channel in show.plan.channels:
        if channel.kind_of_source == "speech" and any(s.bus == "main" for s in channel.sends):
            edit = Edit(channel.record.at("source"), "talkback")
            yield from _made("talker as talkback", channel.name, [edit], "talkback-astray", channel.name, count=-1)


def main_in_mix(show: Show) -> Iterator[Mutant]:
    """The main bus in a monitor mix, and an effect sent to itself."""
    for bus in show.plan.buses.values():
        if bus.role == "mains" and "to" not in bus.record.spans:
            for mix in show.plan.buses.values():
                if mix.role == "monitor" and mix.desk == bus.desk:
                    edit = into(show, bus.span, f"to: {mix.name} -6 dB")
                    yield from _made("main in a mix", mix.name, [edit], "main-in-monitor", mix.name)
        if bus.role == "effects" and bus.sends:
            span = bus.sends[0].span
            edit = Edit(span, f"[{show.text(span)}, {bus.name} -6 dB]")
            yield from _made("effect into itself", bus.name, [edit], "signal-loop", bus.name)


def box_spared(show: Show) -> Iterator[Mutant]:
    """A box that is cabled and marked as a spare, at the end of its line."""
    for box in show.rig.boxes:
        unit = show.plan.units[box]
        edit = into(show, unit.span, "spare: yes")
        whole = show.line(unit.span).lstrip().startswith(box)
        outs = (s.id for o in show.plan.outputs for s, _ in o.sockets)
        if whole and any(show.rig.ends_of(s) == (box,) for s in outs):
            yield from _made("box spared", box, [edit], "orphan-output", box)


def stage_box_unplugged(show: Show) -> Iterator[Mutant]:
    """No network cable to a stage box at the end of the line."""
    every = show.rig.carriers.cables
    for cable in every:
        others = [c for c in every if c is not cable and cable.end.unit in (c.start.unit, c.end.unit)]
        if not others:
            count = len({(c.desk) for c in show.plan.channels if any(s.unit == cable.end.unit for s in c.sockets)})
            yield from _made(
                "network cable removed", cable.name, [item(show, cable.span)], "box-not-joined", cable.end.unit,
                count=count,
            )  # fmt: skip


OPERATORS: tuple[Callable[[Show], Iterator[Mutant]], ...] = (
    cable_removed,
    chain_cut,
    ends_swapped,
    bus_moved,
    bus_doubled,
    sides_exchanged,
    output_removed,
    input_doubled,
    output_doubled,
    unit_misspelt,
    send_misspelt,
    port_misspelt,
    monitor_post,
    effect_pre,
    send_doubled,
    channel_muted,
    voice_in_subs,
    talker_to_the_stage,
    main_in_mix,
    box_spared,
    stage_box_unplugged,
)

