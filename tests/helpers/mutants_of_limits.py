"""Single faults at a limit: the plan's own limit just below what the show has, or a thing just beyond its own."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from helpers.mutants import Edit, Mutant, Show, _made, item
from helpers.mutants_of_figures import _mains_boxes, _units, within
from helpers.mutants_of_text import at_top, own_file
from rigbook.checks.loudspeakers.level_structure import EARLY_DB
from rigbook.compute.figure import value_of
from rigbook.compute.results import results
from rigbook.findings.place import Span

BELOW = 0.02
"""How far below its figure a limit is set, in its unit."""


def limits_of(show: Show) -> dict[str, tuple[str, str, float]]:
    """For each limit that can be set below what the show has: its check, the unit, and the greatest figure."""
    got = results(show.rig)
    out: dict[str, tuple[str, str, float]] = {}
    if got.levels.known:
        mix = got.levels.spots[0][1].value
        out["spread"] = ("coverage-uneven", "dB", max(a.bands[0].spread.value for a in got.levels.by_area))
        out["front-row"] = ("front-row-level", "dB", max(a.first_row.value - mix for a in got.levels.by_area))
        out["uncovered"] = ("audience-uncovered", "%", max(a.uncovered.value for a in got.levels.by_area))
    drops = [v for c in got.mains.circuits if (v := value_of(c.drop)) is not None]
    out["voltage-drop"] = ("voltage-drop", "%", max(drops, default=0.0))
    lifted = [r.per_lifter.value for r in got.racks if not r.rack.record.get("wheels")]
    out["lift"] = ("lift-by-two", "kg", max(lifted, default=0.0))
    losses = [v for r in got.cable_runs if (v := value_of(r.loss)) is not None]
    out["speaker-cable-loss"] = ("speaker-cable-loss", "dB", max(losses, default=0.0))
    return {key: row for key, row in out.items() if row[2] > 0.2}


def limit_tightened(show: Show) -> Iterator[Mutant]:
    """The plan asks for a little more than the show gives."""
    if any(line.startswith("limits:") for f in show.plan.files for line in show.sources[f].lines):
        return
    for key, (check, unit, figure) in limits_of(show).items():
        edit = at_top(show, f"limits: {{{key}: {figure - BELOW:.4f} {unit}}}")
        yield from _made("limit tightened", f"{key} {figure:.2f} {unit}", [edit], check, count=-1)
    got = results(show.rig)
    dampings = [v for r in got.cable_runs if (v := value_of(r.damping)) is not None]
    if dampings:
        edit = at_top(show, f"limits: {{damping: {int(min(dampings)) + 1}}}")
        yield from _made("limit tightened", "damping", [edit], "damping-low", count=-1)
    margins = [v for loop in got.loops if (v := value_of(loop.margin)) is not None]
    if margins:
        least = got.limits["stability-margin"] + min(margins) + 1
        edit = at_top(show, f"limits: {{stability-margin: {least:.2f} dB}}")
        yield from _made("limit tightened", "stability-margin", [edit], "feedback-margin", count=-1)


def loud_by_far(show: Show) -> Iterator[Mutant]:
    """Louder in some place than the ear takes, while the place allows it."""
    if results(show.rig).levels.known:
        edit = at_top(show, "target-level: 84 dB(A)\nlimits: {exposure: 78 dB(A)}")
        yield from _made("too loud for the ear", own_file(show), [edit], "exposure-over-limit", count=-1)


def gain_wrong(show: Show) -> Iterator[Mutant]:
    """An amplifier turned down until the desk clips first."""
    for unit in _units(show, "amplifier"):
        # mains that are turned down by so much leave the first row to the fills and the subs, which is told as well
        boxes = {b for c in show.plan.cables if c.start.unit == unit.name for b in show.rig.boxes_of(c.start.id)}
        mains = {b.name for b in results(show.rig).boxes.all if b.is_main} & boxes
        if unit.kind is not None and "attenuation" not in unit.record.spans and not mains:
            text = f"attenuation: {EARLY_DB + 30:g} dB"
            brace = within(show, unit.span, r"\{kind: ", f"{{{text}, kind: ")
            plain = within(show, unit.span, re.escape(unit.kind.name), f"{{kind: {unit.kind.name}, {text}}}")
            yield from _made("turned down", unit.name, [brace or plain], "level-structure", unit.name, count=-1)


def amplifier_large(show: Show) -> Iterator[Mutant]:
    """The largest amplifier on the smallest boxes, without a limiter."""
    for unit in _units(show, "amplifier"):
        ends = [c.end.id for c in show.plan.cables if c.end.unit == unit.name]
        buses = {show.bus_of(end).name for end in ends if show.rig.legs_of(end)}
        limited = [b for b in show.plan.buses.values() if b.name in buses and b.record.get("limiter") is not None]
        name = unit.kind.name if unit.kind else ""
        large = {"amplifier-4x400": "amplifier-4x1000", "amplifier-2x300": "amplifier-2x900"}.get(name)
        if large and len(limited) == len(buses):
            edits: list[Edit | None] = [within(show, unit.span, rf"\b{name}\b", large)]
            edits += [within(show, b.span, r",? ?limiter: [^,}]+", "") for b in limited]
            checks = "amp-too-large limiter-missing level-structure rack-clash circuit-overload"
            yield from _made("amplifier too large", unit.name, edits, checks, count=-1)


def box_aimed_away(show: Show) -> Iterator[Mutant]:
    """A main box that plays to the stage."""
    for unit in _mains_boxes(show):
        edit = within(show, unit.span, r"aim: [^,}]+", "aim: back")
        # where it has a fellow on the other side, the two no longer are a pair
        checks = "audience-uncovered feedback-margin pair-uneven"
        yield from _made("aimed at the stage", unit.name, [edit], checks, count=-1, own="")


def rack_weak(show: Show) -> Iterator[Mutant]:
    """A rack that carries less than what is in it."""
    for figures in results(show.rig).racks:
        kind = figures.rack.kind
        if kind is not None and figures.units and figures.weight.value > 20:
            deep = f", inside-depth: {d}" if (d := kind.get("inside-depth")) else ""
            text = f"is: rack, title: light rack, height: {figures.units} U, load: 8 kg, weight: 1 kg{deep}"
            own = at_top(show, f"kinds: {{light: {{{text}}}}}")
            edit = Edit(figures.rack.record.at("kind"), "light")
            yield from _made("rack too weak", figures.rack.name, [edit, own], "rack-heavy", figures.rack.name)


def cables_few(show: Show) -> Iterator[Mutant]:
    """One short lead owned where many are wanted; a lead longer than its kind allows."""
    for entry in show.plan.sections.get("stock", ()):
        lengths = entry.value.get("lengths") if hasattr(entry.value, "get") else None
        laid = sum(c.kind_name == entry.name for c in show.plan.cables)
        if lengths and laid > 1:
            edit = within(show, entry.span, r"lengths: \[[^]]*\]", "lengths: [1 m]")
            yield from _made("leads too few", entry.name, [edit], "cable-short-of-stock", entry.name, count=-1)
    text = "is: cable, title: short lead, carries: line, ends: [xlr-male, xlr-female], max-length: 0.5 m"
    short = f"kinds: {{short-xlr: {{{text}}}}}"
    for cable in show.single():
        line = show.line(cable.span).strip()
        lines = show.sources[cable.span.file].lines
        head = next((n for n in range(cable.span.line, 0, -1) if lines[n].startswith("  xlr:")), None)
        if cable.kind_name == "xlr" and cable.length and line.startswith("- ") and head is not None:
            group = at_line(cable.span.file, head, f'  short-xlr: ["{line[2:]}"]')
            edits: list[Edit | None] = [item(show, cable.span), group, at_top(show, short)]
            yield from _made("lead too long", cable.name, edits, "cable-too-long", cable.name)


def at_line(file: str, number: int, text: str) -> Edit:
    """A line before another."""
    return Edit(Span(file, number, 0, number, 0), text + "\n")


OPERATORS: tuple[Callable[[Show], Iterator[Mutant]], ...] = (
    limit_tightened,
    loud_by_far,
    gain_wrong,
    amplifier_large,
    box_aimed_away,
    rack_weak,
    cables_few,
)
