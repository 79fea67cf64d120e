"""The mode, the routes and the settings that a unit's own line says, held against its kind."""

from __future__ import annotations

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.suggest import near
from rigbook.plan.gear import parse_route
from rigbook.plan.model import Unit
from rigbook.plan.sockets import listed
from rigbook.records import replace
from rigbook.text.phrase import phrase


def switched(unit: Unit, findings: list[Finding]) -> Unit:
    """The unit with its mode as it was meant; a key that says nothing its kind has counts as broken."""
    if unit.kind is None:
        return unit
    unit = _mode(unit, findings)
    record, kind = unit.record, unit.kind
    assert kind is not None
    before = len(findings)
    for text in record.get("routes", ()):
        parse_route(str(text), dict(kind.ports), record.at("routes"), findings)
    if len(findings) > before:
        unit = replace(unit, record=replace(record, broken=record.broken | {"routes"}))
    for entry in record.get("settings", ()):
        if entry.name not in kind.ports:
            close = near(entry.name, kind.ports)
            fix = (
                phrase("write `%(line)s`", line=close[0])
                if close
                else phrase("it has %(names)s", names=listed(list(kind.ports)))
            )
            message = phrase("`%(unit)s` has no port `%(name)s`", unit=unit.name, name=entry.name)
            findings.append(_finding("unknown-port", message, Label(entry.span), fix, unit.name))
    return unit


def _mode(unit: Unit, findings: list[Finding]) -> Unit:
    record, kind = unit.record, unit.kind
    typed = record.get("mode")
    if kind is None or not typed or str(typed) in kind.modes:
        return unit
    # the few modes of an amplifier begin unlike: `brdge` is nothing else than `bridged`
    close = near(str(typed), kind.modes) or tuple(m for m in kind.modes if m[:2] == str(typed)[:2].lower())
    modes = listed(list(kind.modes))
    fix = (
        phrase("write `%(line)s`", line=close[0])
        if close
        else phrase("`%(kind)s` has the modes %(names)s", kind=kind.name, names=modes)
        if kind.modes
        else phrase("`%(kind)s` has no modes", kind=kind.name)
    )
    message = phrase("`%(kind)s` has no mode `%(mode)s`", kind=kind.name, mode=typed)
    findings.append(_finding("unknown-name", message, Label(record.at("mode")), fix, unit.name))
    values = {key: value for key, value in record.values.items() if key != "mode"}
    if close:
        values["mode"] = close[0]
        return replace(unit, record=replace(record, values=values, broken=record.broken | {"mode"}))
    return replace(unit, record=replace(record, values=values, broken=record.broken | {"mode"}))


def _finding(check: str, message: str, label: Label, fix: str, name: str) -> Finding:
    return Finding(check, Severity.ERROR, message, label, remedy=fix, objects=frozenset({name}))
