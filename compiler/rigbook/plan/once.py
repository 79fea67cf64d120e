"""One missing name is one finding, however many lines say it; and so is equipment that is not there at all."""

from __future__ import annotations

from collections.abc import Collection
from typing import Final

from rigbook.findings.finding import Finding, Label, in_order
from rigbook.records import replace
from rigbook.text.phrase import phrase

NO_UNITS: Final = phrase("no equipment is named under `units:`, and this plan uses some")
NO_BUSES: Final = phrase("no bus is named under `buses:`, and this plan uses one")
SHOWN = 6
"""Further places that are shown."""


def once(findings: list[Finding], units: Collection[object], buses: Collection[object]) -> list[Finding]:
    """Findings of unknown names, the same name joined; without any unit, or any bus, all of them joined."""
    out: dict[object, Finding] = {}
    for number, f in enumerate(in_order(findings)):
        key: object = number
        if f.check == "unknown-name" and f.message.startswith("there is no "):
            # what a note is about is a unit more often than not
            key = f.message.replace("no thing", "no unit")
            if not units and f.message.startswith(("there is no unit", "there is no desk")):
                key = "units"
            elif not buses and f.message.startswith("there is no bus"):
                key = "buses"
        if f.check == "unknown-name" and f.message.endswith((" has no left side", " has no right side")):
            key = f.message.partition(" has no ")[0]
        first = out.get(key)
        out[key] = f if first is None else _joined(first, f)
    for section, message, example in (
        ("units", NO_UNITS, "desk: desk-16"),
        ("buses", NO_BUSES, "main: {stereo: yes}"),
    ):
        if section in out and out[section].secondary:
            fix = phrase(
                "write `%(line)s` and below it what there is, such as `%(example)s`",
                line=f"{section}:",
                example=example,
            )
            out[section] = replace(out[section], message=message, remedy=fix)
    return list(out.values())


def _joined(first: Finding, again: Finding) -> Finding:
    objects = first.objects | again.objects
    if len(first.secondary) >= SHOWN:
        return replace(first, objects=objects)
    return replace(first, objects=objects, secondary=(*first.secondary, Label(again.primary.span, phrase("and here"))))
