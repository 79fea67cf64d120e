"""A plan to its graph, in one pass over what the plan says."""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.place import Span
from rigbook.graph import kinds as k
from rigbook.graph.carriers import Carriers
from rigbook.graph.net import Edge, Net
from rigbook.plan.model import Bus, Channel, Output, Plan, Socket, Unit

ENDS = ("recorder", "feed", "radio")
"""Families at whose inputs a signal ends: what comes into a radio unit is heard by who wears its receiver."""


def build(plan: Plan) -> tuple[Net, Carriers]:
    """The graph of a plan, and the network cables beside it. Never fails: what is unknown becomes an unknown node."""
    net = Net()
    carriers = Carriers.of(plan)
    for bus in plan.buses.values():
        for leg in bus.legs:
            net.add_node(
                k.bus_node(bus.desk, bus.name, leg), kind=k.BUS, unit=bus.desk, span=bus.span, bus=bus, leg=leg
            )
        _insert(net, plan, bus, [k.bus_node(bus.desk, bus.name, leg) for leg in bus.legs], carriers)
    for channel in plan.channels:
        _channel(net, plan, channel, carriers)
    for bus in plan.buses.values():
        for leg in bus.legs:
            _sends(net, plan, bus.desk, bus.sends, k.bus_node(bus.desk, bus.name, leg), leg, bus.stereo, "post")
    for output in plan.outputs:
        _output(net, plan, output, carriers)
    for cable in plan.cables:
        if carriers.carries_signal(cable):
            start, end = _socket(net, plan, cable.start, cable.span), _socket(net, plan, cable.end, cable.span)
            net.add_edge(start, end, kind=k.CABLE, span=cable.span, via=(), cable=cable)
    for unit in plan.units.values():
        _inside(net, plan, unit)
    return net, carriers


def _socket(net: Net, plan: Plan, socket: Socket, span: Span) -> str:
    """The node of a socket, made where it is not there yet."""
    name = socket.id
    if name not in net:
        unit = plan.units.get(socket.unit)
        port = unit.kind.ports.get(socket.port) if unit and unit.kind else None
        kind = k.SOCKET if port else k.UNKNOWN
        net.add_node(name, kind=kind, unit=socket.unit, span=span, port=port, socket=socket)
    return name


def _channel(net: Net, plan: Plan, channel: Channel, carriers: Carriers) -> None:
    legs = [k.channel_node(channel.desk, channel.number, leg) for leg in channel.legs]
    for node, leg in zip(legs, channel.legs, strict=True):
        net.add_node(node, kind=k.CHANNEL, unit=channel.desk, span=channel.span, channel=channel, leg=leg)
    _insert(net, plan, channel, legs, carriers)
    span = channel.record.at("from")
    for i, socket in enumerate(channel.sockets):
        node = _socket(net, plan, socket, span)
        targets = legs if len(channel.sockets) == 1 else legs[i : i + 1] or legs[-1:]
        via = carriers.between(channel.desk, socket.unit)
        for target in targets:
            net.add_edge(node, entry_of(net, target), kind=k.LISTEN, span=span, via=via, channel=channel)
    if not channel.sockets and "from" in channel.record.broken:
        net.add_node("?", kind=k.UNKNOWN, unit="", span=span)
        for target in legs:
            net.add_edge("?", target, kind=k.LISTEN, span=span, via=(), channel=channel)
    if channel.source_key:
        source = k.source_node(channel.desk, channel.number)
        net.add_node(source, kind=k.SOURCE, unit="", span=channel.record.at(channel.source_key), channel=channel)
        plug_span = channel.record.at("plugged" if "plugged" in channel.record.spans else "from")
        for socket in channel.plugged:
            node = _socket(net, plan, socket, plug_span)
            net.add_edge(source, node, kind=k.PLUG, span=plug_span, via=(), channel=channel)
    for node, leg in zip(legs, channel.legs, strict=True):
        if not channel.record.get("muted"):
            _sends(net, plan, channel.desk, channel.sends, node, leg, channel.stereo, "")


def _insert(net: Net, plan: Plan, owner: Channel | Bus, legs: list[str], carriers: Carriers) -> None:
    """Points where the signal goes out to an insert, before the legs that it comes back to."""
    insert = owner.insert
    if insert is None:
        return
    about = {"channel": owner} if isinstance(owner, Channel) else {"bus": owner}
    span = insert.record.span
    for node, (leg, send, back) in zip(legs, insert.pairs(owner.legs), strict=False):
        point = k.insert_node(node)
        net.add_node(point, kind=k.INSERT_POINT, unit=owner.desk, span=span, leg=leg, **about)
        out, home = (_socket(net, plan, s, insert.record.at(key)) for s, key in ((send, "send"), (back, "return")))
        for start, end, socket in ((point, out, send), (home, node, back)):
            via = carriers.between(owner.desk, socket.unit)
            net.add_edge(start, end, kind=k.INSERT, span=span, via=via, insert=insert)


def entry_of(net: Net, node: str) -> str:
    """Where a signal comes into a channel or bus leg: before its insert, where it has one."""
    point = k.insert_node(node)
    return point if point in net else node


def leg_of(net: Net, node: str) -> str:
    """The channel or bus leg whose insert a node is; any other node itself."""
    data = net.nodes[node]
    if data["kind"] != k.INSERT_POINT:
        return node
    owner = data.get("channel") or data["bus"]
    if isinstance(owner, Channel):
        return k.channel_node(owner.desk, owner.number, data["leg"])
    return k.bus_node(owner.desk, owner.name, data["leg"])


def inserted(net: Net, leg: str) -> frozenset[Edge]:
    """The connections of the insert of a channel or bus leg: out, through what is there, and back; none without one."""
    point = k.insert_node(leg)
    if point not in net:
        return frozenset()
    between = net.reached((point,), net.succ) & net.reached((leg,), net.pred)
    return frozenset(e for n in between for e, _ in net.edges_out(n) if e[1] in between)


def _sends(
    net: Net, plan: Plan, desk: str, sends: tuple[object, ...], node: str, leg: str, stereo: bool, pick: str
) -> None:
    from rigbook.language.values.sends import Send

    for send in sends:
        assert isinstance(send, Send)
        bus = plan.buses.get((desk, send.bus))
        if bus is None or send.off:
            continue
        for target in send_legs(bus, send.leg, leg if stereo else ""):
            net.add_edge(
                node,
                entry_of(net, k.bus_node(desk, bus.name, target)),
                kind=k.SEND,
                span=send.span,
                via=(),
                send=send,
                pick=send.pick or pick or bus.pick,
                level=send.level.value if send.level else 0.0,
            )


def send_legs(bus: Bus, said: str, side: str) -> tuple[str, ...]:
    """The legs of a bus that a send from one side reaches: the leg said, else its own side, else all."""
    if not bus.stereo:
        return ("",)
    if said:
        return (said,)
    return (side,) if side else ("left", "right")


def _output(net: Net, plan: Plan, output: Output, carriers: Carriers) -> None:
    bus = plan.buses.get((output.desk, output.bus))
    if bus is None:
        return
    legs = bus.legs if output.leg == "mono" or not bus.stereo else (output.leg,)
    for socket, span in output.sockets:
        node = _socket(net, plan, socket, span)
        via = carriers.between(output.desk, socket.unit)
        for leg in legs:
            net.add_edge(k.bus_node(output.desk, bus.name, leg), node, kind=k.LEAVE, span=span, via=via, output=output)


def _inside(net: Net, plan: Plan, unit: Unit) -> None:
    """What goes where inside a unit. Sockets that nothing touches are made too: a free link is a fact."""
    if unit.kind is None or unit.spare:
        return
    for a, b in routes(unit, net):
        kind = k.LINK if b.startswith("link") else k.INSIDE
        start = _socket(net, plan, Socket(unit.name, a), unit.span)
        end = _socket(net, plan, Socket(unit.name, b), unit.span)
        net.add_edge(start, end, kind=kind, span=unit.span, via=(), unit=unit)
    if unit.is_speaker or unit.family in ENDS:
        ins = [p for p in unit.kind.ports.values() if p.direction == "in" and p.level not in k.SIGNAL_FREE]
        # a radio receiver takes nothing in and is no end
        if ins or unit.family != "radio":
            box = k.BOX if unit.is_speaker else k.SINK
            net.add_node(unit.name, kind=box, unit=unit.name, span=unit.span)
        for port in ins:
            node = _socket(net, plan, Socket(unit.name, port.name), unit.span)
            net.add_edge(node, unit.name, kind=k.SOUND, span=unit.span, via=(), unit=unit)


def routes(unit: Unit, net: Net) -> Iterator[tuple[str, str]]:
    """Pairs of ports of a unit that are joined inside: as its own line says, its mode, its kind, or its family."""
    kind = unit.kind
    assert kind is not None
    ports = kind.ports
    own = unit.record.get("routes")
    if own:
        from rigbook.plan.gear import parse_route

        for text in own:
            yield from parse_route(str(text), dict(ports), unit.record.at("routes"), [])
    elif kind.modes:
        mode = unit.record.get("mode") or next(iter(kind.modes))
        yield from kind.modes.get(str(mode), ())
    elif kind.routes:
        yield from kind.routes
    elif kind.family == "tie line":
        yield from _tie(unit, net)
    elif kind.family in ("amplifier", "processor"):
        yield from ((p, f"out {p[3:]}") for p in ports if p.startswith("in ") and f"out {p[3:]}" in ports)
    links = {b for b in ports if b.startswith("link")}
    said = {b for _, b in (kind.routes or ())} if not own and not kind.modes else set()
    for link in sorted(links - said):
        source = f"in {link[5:]}".strip()
        if source in ports:
            yield source, link


def _tie(unit: Unit, net: Net) -> Iterator[tuple[str, str]]:
    """A tie line carries either way: from the end that a signal comes to."""
    assert unit.kind is not None
    pairs: dict[str, list[str]] = {}
    for name in unit.kind.ports:
        pairs.setdefault(name.rpartition(" ")[2], []).append(name)
    for ends in pairs.values():
        if len(ends) != 2:
            continue
        a, b = ends
        nodes = {e: f"{unit.name}/{e}" for e in ends if f"{unit.name}/{e}" in net}
        reached = [e for e, node in nodes.items() if net.pred[node]]
        left = [e for e, node in nodes.items() if net.succ[node]]
        yield (b, a) if reached == [b] or (not reached and left == [a]) else (a, b)
