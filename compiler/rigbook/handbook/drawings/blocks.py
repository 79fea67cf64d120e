"""The rig as blocks with rows, device by device: what the signal-flow drawing lays out.

A stage box that takes inputs and gives outputs is two blocks, so that the signal runs one way across the sheet.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.handbook.anchors import href


@dataclass
class Row:
    """A line of a block: what comes in on its left, what goes out on its right."""

    left: str
    right: str
    y: float = 0.0


@dataclass
class Block:
    """A device, or the input or output side of one."""

    key: str
    title: str
    sort: str
    """Family, for its outline: desk, stage box, amplifier, speaker …"""
    link: str
    rows: dict[str, Row] = field(default_factory=dict)
    column: int = 0
    y: float = 0.0

    def row(self, key: str, left: str = "", right: str = "") -> Row:
        """The row of a key, made where it is not there; its words are filled in as they become known."""
        got = self.rows.setdefault(key, Row("", ""))
        got.left, got.right = got.left or left, got.right or right
        return got


@dataclass(frozen=True)
class Line:
    """A connection from the right of a row to the left of another."""

    start: tuple[str, str]
    end: tuple[str, str]
    sort: str
    """speaker, line, mic, network (patched over it), inside."""
    title: str


@dataclass
class Sheet:
    """Blocks by key, and the lines between them."""

    blocks: dict[str, Block] = field(default_factory=dict)
    lines: list[Line] = field(default_factory=list)


def sheet_of(rig: Rig) -> Sheet:
    """Blocks and lines of a whole rig, sources gathered to one row for each place they are plugged."""
    sheet = Sheet()
    seen: set[tuple[tuple[str, str], tuple[str, str]]] = set()
    for a, b, data in rig.graph.edges(data=True):
        kind = data["kind"]
        if kind in (k.SEND, k.SOUND, k.INSIDE, k.LINK) or k.UNKNOWN in (
            rig.graph.nodes[a]["kind"],
            rig.graph.nodes[b]["kind"],
        ):
            continue
        start, end = _end(sheet, rig, a, "right"), _end(sheet, rig, b, "left")
        cable = data.get("cable")
        if start is None or end is None or (start, end) in seen:
            continue
        seen.add((start, end))
        if start[0] == end[0]:
            if cable:
                # a short cable from a device to itself (a link made) is said, not drawn: it would cross its block
                sheet.blocks[end[0]].rows[end[1]].left = f"{cable.end.port} \u2190 {cable.start.port}"
            continue
        sort = "speaker" if cable and cable.kind and cable.kind.get("carries") == "speaker" else "line"
        sort = "network" if data["via"] else sort
        sheet.lines.append(Line(start, end, sort, f"{a} -> {b}" if cable else ""))
    for name in rig.boxes:
        _block(sheet, rig, name, name)
    return sheet


def _end(sheet: Sheet, rig: Rig, node: str, side: str) -> tuple[str, str] | None:
    data = rig.graph.nodes[node]
    kind, unit = data["kind"], data["unit"]
    if kind == k.SOURCE:
        socket = data["channel"].plugged
        where = socket[0].unit if socket else data["channel"].desk
        key = f"sources {where}"
        count = sum(1 for c in rig.plan.channels if c.source_key and c.plugged and c.plugged[0].unit == where)
        block = sheet.blocks.setdefault(key, Block(key, "Sources", "source", href("unit", where)))
        block.row("all", right=f"{count} {'source' if count == 1 else 'sources'}")
        return key, "all"
    if kind == k.CHANNEL:
        block = _block(sheet, rig, unit, unit)
        count = sum(1 for c in rig.plan.channels if c.desk == unit)
        block.row("channels", left=f"{count} channels")
        return unit, "channels"
    if kind == k.BUS:
        block = _block(sheet, rig, unit, unit)
        name = f"{data['bus'].name} {data['leg']}".strip()
        block.row(name, right=name)
        return unit, name
    if kind == k.SOCKET:
        return _socket(sheet, rig, unit, data["socket"].port, side)
    return None


def _socket(sheet: Sheet, rig: Rig, unit: str, port: str, side: str) -> tuple[str, str]:
    """The row of a socket. Inputs of a stage box, splitter or desk are gathered to one row; others stand alone."""
    family = rig.plan.units[unit].family
    if family in ("stage box", "splitter", "tie line", "desk", "radio"):
        stem = port.rpartition(" ")[0] or port
        if family == "splitter" or (family in ("stage box", "tie line") and stem == "in"):
            key = f"{unit} in" if family == "stage box" else unit
            block = _block(sheet, rig, unit, key)
            if family == "splitter":
                block.row(
                    "in" if stem == "in" else stem,
                    left="in" if stem == "in" else "",
                    right="" if stem == "in" else stem,
                )
                return key, "in" if stem == "in" else stem
            block.row("in", left="in", right="in")
            return key, "in"
        if family == "desk":
            name = stem if port.startswith("line") else port
            _block(sheet, rig, unit, unit).row(name, **{side: name})
            return unit, name
        block = _block(sheet, rig, unit, unit)
        block.row(port, left=port, right=port)
        return unit, port
    row = port.rpartition(" ")[2] if family in ("amplifier",) and " " in port else port
    block = _block(sheet, rig, unit, unit)
    if family in ("speaker", "powered speaker"):
        row = "in"
    block.row(row, **{side: port})
    return unit, row


def _block(sheet: Sheet, rig: Rig, unit: str, key: str) -> Block:
    got = rig.plan.units[unit]
    if key not in sheet.blocks:
        sheet.blocks[key] = Block(key, got.title, got.family, href("unit", unit))
        if got.family == "desk" and any(c.desk == unit for c in rig.plan.channels):
            sheet.blocks[key].row("channels")
    return sheet.blocks[key]
