"""A rack from the front or the rear, to scale: IEC 60297 panels of 482.6 mm, 44.45 mm to a rack unit."""

from __future__ import annotations

from math import ceil

from rigbook.graph.rig import Rig
from rigbook.handbook.anchors import href
from rigbook.handbook.drawings import svg
from rigbook.handbook.tongue import ENGLISH, Tongue
from rigbook.handbook.words import chosen
from rigbook.plan.model import Rack
from rigbook.text.phrase import phrase

UNIT_MM, PANEL_MM = 44.45, 482.6
"""IEC 60297-3-100: height of a rack unit, width of a panel."""
SCALE = 0.62
"""Drawing pixels for a millimetre: a rack unit is 28 px, enough for a line of type."""
RAIL = 34.0


def draw(rig: Rig, rack_name: str, side: str, tongue: Tongue = ENGLISH) -> str:
    """One elevation. `side` is `front` or `rear`; seen from that side."""
    rack = rig.plan.racks[rack_name]
    tall = units_high(rack)
    unit, panel = UNIT_MM * SCALE, PANEL_MM * SCALE
    wide, high = panel + 2 * RAIL, tall * unit + 8
    body = [svg.rect(RAIL - 4, 2, panel + 8, tall * unit + 4, "rack-frame")]
    for u in range(1, tall + 1):
        y = 4 + (tall - u) * unit
        body.append(svg.text(RAIL - 10, y + unit / 2 + 4, str(u), "rack-number", "end"))
        body.append(svg.path(f"M{svg.num(RAIL)} {svg.num(y)}h{svg.num(panel)}", "rack-line"))
    seen = [(low, tongue.words(words), *rest) for low, words, *rest in items(rig, rack, side)]
    for lowest, words, link, height, css in seen:
        y = 4 + (tall - lowest - height + 1) * unit
        shape = svg.rect(RAIL, y + 1, panel, height * unit - 2, css, 2)
        label = svg.text(RAIL + 12, y + height * unit / 2 + 4, words, "rack-words", most=panel - 24)
        body.append(svg.link(link, shape + label, words) if link else shape + label)
    title = tongue.say("Rack %(name)s, %(side)s", name=rack.record.get("title") or rack.name, side=chosen(side))
    told = (tongue.say("unit %(n)s: %(what)s", n=low, what=words) for low, words, *_ in seen)
    described = tongue.sign("; ").join(told) or tongue.say("empty")
    return svg.sheet(f"rack-{rack.name}-{side}", wide, high, title, described, body)


def units_high(rack: Rack) -> int:
    """Rack units to draw: as the kind says, or as far as the plan fills it."""
    height = rack.kind.get("height") if rack.kind else None
    filled = max((low for low, _ in (*rack.front, *rack.rear)), default=1)
    return max(round(height.value) if height else 0, filled)


def items(rig: Rig, rack: Rack, side: str) -> list[tuple[int, str, str, int, str]]:
    """(lowest unit, words, link, rack units, class) of what is seen from one side, from the bottom up.

    A unit mounted at the front shows its back at the rear, where nothing is mounted before it.
    """
    out = []
    near = rack.front if side == "front" else rack.rear
    far = rack.rear if side == "front" else rack.front
    covered: set[int] = set()
    for low, item in near:
        height = item.height or unit_height(rig, item.unit)
        covered.update(range(low, low + height))
        unit = rig.plan.units.get(item.unit)
        words = unit.title if unit else chosen(item.filler)
        css = "rack-unit" if unit else f"rack-filler {item.filler}"
        out.append((low, words, href("unit", item.unit) if unit else "", height, css))
    for low, item in far:
        unit = rig.plan.units.get(item.unit)
        height = item.height or unit_height(rig, item.unit)
        if unit and not covered & set(range(low, low + height)):
            out.append((low, phrase("%(name)s (back)", name=unit.title), href("unit", item.unit), height, "rack-back"))
    return sorted(out)


def unit_height(rig: Rig, name: str) -> int:
    """Rack units that a unit takes; 1 where its kind does not say."""
    unit = rig.plan.units.get(name)
    height = unit.kind.get("height") if unit and unit.kind else None
    return max(1, ceil(height.value)) if height else 1
