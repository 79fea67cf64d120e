"""Single faults of the patch and the wiring: what is plugged in where, by which cable, and what of it there is."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from itertools import combinations
from types import MappingProxyType

from helpers.mutants import Edit, Mutant, Show, _made, into, item
from helpers.mutants_of_figures import typed, within
from helpers.mutants_of_text import below, head, own_file
from rigbook.findings.place import Span
from rigbook.graph.ways import behind
from rigbook.plan.model import Cable, Channel

RIBBON = "ribbon-passive"
OTHER_SORT = MappingProxyType(
    {"powered-wedge-12": "wedge-12", "wedge-12": "powered-wedge-12", "wedge-15": "powered-wedge-12"}
)


def whole_line(span: Span) -> Edit:
    """The line of a span, taken out."""
    return Edit(Span(span.file, span.line, 0, span.line + 1, 0), "")


def one_line(show: Show, channel: Channel) -> bool:
    """The channel stands alone on its line."""
    return show.line(channel.span).lstrip().startswith(f"{channel.number}:")


def _mics(show: Show) -> Iterator[Channel]:
    for channel in show.plan.channels:
        if channel.source_key == "mic" and len(channel.sockets) == 1 and one_line(show, channel):
            yield channel


def sockets_exchanged(show: Show) -> Iterator[Mutant]:
    """Two neighbouring channels hear each other's socket; one hears that of its neighbour."""
    for a, b in combinations(_mics(show), 2):
        alike = a.desk == b.desk and a.source_kind is b.source_kind and b.number == a.number + 1
        if alike and (a.number - 1) // 8 == (b.number - 1) // 8 and a.sockets[0].unit == b.sockets[0].unit:
            first, second = (c.record.at("from") for c in (a, b))
            edits: list[Edit | None] = [Edit(first, b.sockets[0].id), Edit(second, a.sockets[0].id)]
            about = (a.name, b.name)
            checks = "plugged-astray" if "plugged" in a.record.spans else "block-patch-break"
            yield from _made("sockets exchanged", f"{a.name}, {b.name}", edits, checks, *about)
            # its own microphone goes on being plugged in where it was, and another desk may miss it
            if "plugged" not in a.record.spans and not a.record.get("phantom"):
                edit = Edit(second, a.sockets[0].id)
                yield from _made("one socket twice", b.name, [edit], "double-patched-input", a.sockets[0].id)


def plugged_together(show: Show) -> Iterator[Mutant]:
    """Two microphones plugged into one socket of a splitter or drop box."""
    for a, b in combinations(_mics(show), 2):
        elsewhere = "plugged" in a.record.spans and "plugged" in b.record.spans and a.desk == b.desk
        near = b.number == a.number + 1 and a.plugged[0].unit == b.plugged[0].unit
        if elsewhere and near and not b.record.get("phantom"):
            # the other desk still listens where it was plugged in
            edit = Edit(b.record.at("plugged"), a.plugged[0].id)
            yield from _made("one socket for two", b.name, [edit], "plugged-astray", a.plugged[0].id, b.name)


def network_together(show: Show) -> Iterator[Mutant]:
    """Two network cables in one socket; one that is far too long."""
    every = [c for c in show.rig.carriers.cables if "/" in show.text(c.start_span)]
    for a, b in combinations(every, 2):
        used = {c.start.unit for c in (a, b)} & {c.end.unit for c in (a, b)}
        if used:
            edit = Edit(b.start_span, a.end.id) if b.start.unit == a.end.unit else None
            yield from _made("network sockets", b.name, [edit], "port-taken", a.end.id)
    for cable in every:
        edit = within(show, cable.span, rf", {re.escape(str(cable.length))}", ", 150 m")
        checks = "network-cable-too-long cable-short-of-stock"
        yield from _made("network cable too long", cable.name, [edit], checks, cable.name, "network", count=-1)


def source_left_out(show: Show) -> Iterator[Mutant]:
    """Nothing is plugged in; an unbalanced source without its DI; phantom on a ribbon; two sides by one socket."""
    for channel in _mics(show):
        gone = within(show, channel.span, rf", mic: {channel.source_kind.name}\b", "")  # type: ignore[union-attr]
        if not channel.record.get("phantom"):
            yield from _made("nothing plugged in", channel.name, [gone], "channel-without-source", channel.name)
        ribbon = within(show, channel.span, r"\bmic: [\w-]+(, phantom: yes)?", f"mic: {RIBBON}, phantom: yes")
        if channel.record.get("phantom"):
            checks = "phantom-unwanted gear-short-of-stock"
            yield from _made("phantom on a ribbon", channel.name, [ribbon], checks, channel.name)
        stereo = into(show, channel.span, "stereo: yes")
        yield from _made("stereo by one socket", channel.name, [stereo], "stereo-on-one-socket", channel.name)
    for channel in show.plan.channels:
        bare = within(show, channel.span, r"\bdi: di-passive, ", "")
        if channel.source_key == "di" and channel.record.get("line") is not None and one_line(show, channel):
            yield from _made("DI left out", channel.name, [bare], "connector-mismatch", channel.name, count=-1)


def phantom_wrong(show: Show) -> Iterator[Mutant]:
    """Phantom power left out, given to an active output, or given from the wrong side of a splitter."""
    for channel in show.plan.channels:
        off = within(show, channel.span, r"\bphantom: yes, ", "")
        if not one_line(show, channel):
            continue
        if channel.record.get("phantom"):
            yield from _made("phantom left out", channel.name, [off], "phantom-missing", channel.name)
            others = [c for c in show.plan.channels if c.name == channel.name and c.desk != channel.desk]
            for other in others[:1]:
                on = into(show, other.span, "phantom: yes")
                checks = "phantom-through-splitter"
                yield from _made("phantom behind a splitter", channel.name, [off, on], checks, channel.name)
        if not channel.source_key and "player" in _origins(show, channel):
            on = into(show, channel.span, "phantom: yes")
            yield from _made("phantom on a player", channel.name, [on], "phantom-unwanted", count=-1)


def _origins(show: Show, channel: Channel) -> set[str]:
    """Families of the units from which a channel's signal comes."""
    units = (show.rig.unit(o) for s in channel.sockets for o in show.rig.origins_of(s.id))
    return {u.family for u in units if u}


def pair_apart(show: Show) -> Iterator[Mutant]:
    """The two sides of a stereo channel the other way round."""
    for channel in show.plan.channels:
        said = show.text(channel.record.at("from")) if "from" in channel.record.spans else ""
        found = re.search(r"(\d+)\+(\d+)", said)
        if found and one_line(show, channel) and "plugged" not in channel.record.spans:
            text = show.text(channel.record.at("from")).replace(found[0], f"{found[2]}+{found[1]}")
            checks = "stereo-pair-not-adjacent block-patch-break"
            edit = Edit(channel.record.at("from"), text)
            yield from _made("sides the other way", channel.name, [edit], checks, channel.name, count=-1)
            lead = within(show, channel.span, r"\bline: interface-2(.*)cable: 3 m", r"line: laptop\1cable: 12 m")
            yield from _made("unbalanced and long", channel.name, [lead], "unbalanced-too-long", channel.name)


def name_twice(show: Show) -> Iterator[Mutant]:
    """Two channels of one name."""
    for a, b in combinations(_mics(show), 2):
        if a.desk == b.desk and len({c.name for c in show.plan.channels}) == len(show.plan.channels):
            edit = typed(show, b.record, "name", a.name)
            yield from _made("name twice", f"{b.number}: {a.name}", [edit], "duplicate-label", a.name)


def stock_small(show: Show) -> Iterator[Mutant]:
    """One piece owned of what the show wants more of."""
    for file in show.plan.files:
        for number, line in enumerate(show.sources[file].lines):
            found = re.fullmatch(r"  ([a-z][\w-]+): (\d+)", line)
            kind = show.plan.kinds.get(found[1]) if found else None
            wanted = sum(c.source_kind is kind or kind in _stand(show, c) for c in show.plan.channels) if kind else 0
            if found and wanted > 1:
                edit = Edit(Span(file, number, found.start(2), number, found.end(2)), "1")
                yield from _made("too few owned", found[1], [edit], "gear-short-of-stock", found[1])


def _stand(show: Show, channel: Channel) -> tuple[object, ...]:
    name = channel.record.get("stand")
    return (show.plan.kinds.get(str(name)),) if name else ()


def unit_unused(show: Show) -> Iterator[Mutant]:
    """A splitter that nothing is cabled to."""
    lone = below(show, r"^units:", "  lone: splitter-8", show.plan.files[-1])
    yield from _made("unit unused", own_file(show), [lone], "unused-gear", "lone")
    lone = below(show, r"^units:", "  lone: splitter-8")
    yield from _made("unit unused", own_file(show), [lone], "unused-gear", "lone")


def cable_turned(show: Show) -> Iterator[Mutant]:
    """A cable written from its far end."""
    for cable in show.single():
        start, end = show.text(cable.start_span), show.text(cable.end_span)
        if "/" in end and "/" in start and not cable.start.port.startswith("link"):
            edits: list[Edit | None] = [Edit(cable.start_span, cable.end.id), Edit(cable.end_span, cable.start.id)]
            yield from _made("cable turned", cable.name, edits, "wrong-direction", cable.start.unit, cable.end.unit)


def cable_of_another_kind(show: Show) -> Iterator[Mutant]:
    """Speaker lines on a lead for signal with the same plugs; every XLR line on jacks."""
    lead = "kinds: {thin-lead: {is: cable, title: thin lead, carries: line, ends: [speaker-4-pole, speaker-4-pole]}}"
    for file in show.plan.files:
        speaker = head(show, r"^  speaker-2\.5-mm2:(?= *$)", "  thin-lead:", file)
        kind = Edit(Span(own_file(show), 1, 0, 1, 0), lead + "\n")
        yield from _made("thin lead", file, [speaker, kind], "wrong-cable speaker-cable-loss damping-low", count=-1)
        jacks = head(show, r"^  xlr:(?= *$)", "  jack-balanced:", file)
        yield from _made("jacks for XLR", file, [jacks], "connector-mismatch", count=-1)


def level_wrong(show: Show) -> Iterator[Mutant]:
    """A passive box where a powered one was, and the other way round; a receiver into a line input."""
    for cable in show.single():
        unit = show.plan.units[cable.end.unit]
        kind = unit.kind.name if unit.kind else ""
        other = OTHER_SORT.get(kind)
        if other is None or not show.rig.boxes_of(cable.end.id):
            continue
        powered = other.startswith("powered")
        checks = "speaker-level-into-line circuit-unknown" if powered else "line-into-speaker"
        edit = within(show, unit.span, rf"\b{kind}\b", other)
        yield from _made("other sort of box", unit.name, [edit], checks, unit.name, count=-1)
    yield from _receiver_into_line(show)
    yield from _line_into_microphones(show)


def _line_into_microphones(show: Show) -> Iterator[Mutant]:
    """A pocket recorder that has microphone inputs only."""
    ports = ", ".join(f"in {n}: {{connector: xlr-female, level: mic, direction: in}}" for n in (1, 2))
    kind = f"kinds: {{pocket: {{is: recorder, title: pocket recorder, height: 1 U, ports: {{{ports}}}}}}}"
    for unit in show.plan.units.values():
        if unit.family == "recorder" and unit.kind is not None:
            edit = within(show, unit.span, rf"\b{unit.kind.name}\b", "pocket")
            own = Edit(Span(own_file(show), 1, 0, 1, 0), kind + "\n")
            checks = "line-into-mic-without-pad"
            yield from _made("recorder for microphones", unit.name, [edit, own], checks, unit.name, count=2)


def _receiver_into_line(show: Show) -> Iterator[Mutant]:
    free = [u.name for u in show.plan.units.values() if u.kind and u.kind.name == "handover-2"]
    for cable in show.single_sources():
        channels = [c for c in show.plan.channels if c.sockets and c.sockets[0].id == cable.end.id]
        taken = {c.end.id for c in show.plan.cables}
        for unit in free:
            if f"{unit}/in 2" not in taken and len(channels) == 1 and one_line(show, channels[0]):
                edits: list[Edit | None] = [Edit(cable.end_span, f"{unit}/in 2"), whole_line(channels[0].span)]
                yield from _made("receiver into a line", cable.name, edits, "mic-level-into-line", cable.start.unit)


def source_unheard(show: Show) -> Iterator[Mutant]:
    """The channel of a receiver or player was forgotten, on every desk."""
    for cable in show.single_sources():
        heard = [c for c in show.plan.channels if not c.source_key and _heard_by(show, cable, c)]
        ends = {u.family for n in behind(show.rig, cable.end.id) if (u := show.rig.unit(n))}
        if heard and all(one_line(show, c) for c in heard) and "feed" not in ends:
            edits: list[Edit | None] = [whole_line(c.span) for c in heard]
            yield from _made("channel forgotten", cable.name, edits, "unheard-source", cable.start.unit, count=-1)


def _heard_by(show: Show, cable: Cable, channel: Channel) -> bool:
    return any(o.partition("/")[0] == cable.start.unit for s in channel.sockets for o in show.rig.origins_of(s.id))


def cable_to_nothing(show: Show) -> Iterator[Mutant]:
    """The link of the last box of a line, cabled to a tie line that goes no further."""
    for cable in show.single():
        unit = show.plan.units[cable.end.unit]
        links = [p for p in (unit.kind.ports if unit.kind else ()) if p == "link"]
        used = any(c.start.unit == unit.name for c in show.plan.cables)
        if unit.family == "powered speaker" and links and not used and show.line(cable.span).strip().startswith("- "):
            file, number = cable.span.file, cable.span.line
            added = Edit(Span(file, number, 0, number, 0), f"    - {unit.name}/link -> tie/booth 13, 5 m\n")
            tie = below(show, r"^units:", "  tie: tie-line-16", file)
            yield from _made("cable to nothing", unit.name, [added, tie], "walk-test-gap", unit.name)


def source_unplugged(show: Show) -> Iterator[Mutant]:
    """The cable of a receiver or player was never made."""
    for cable in show.single_sources():
        channels = [c for c in show.plan.channels if _heard_by(show, cable, c)]
        about = (cable.start.id, cable.start.unit, *(c.name for c in channels))
        yield from _made(
            "source unplugged", cable.name, [item(show, cable.span)], "channel-without-source", *about
        )


OPERATORS: tuple[Callable[[Show], Iterator[Mutant]], ...] = (
    sockets_exchanged,
    plugged_together,
    network_together,
    source_left_out,
    phantom_wrong,
    pair_apart,
    name_twice,
    stock_small,
    unit_unused,
    cable_turned,
    cable_of_another_kind,
    level_wrong,
    source_unheard,
    cable_to_nothing,
    source_unplugged,
)
