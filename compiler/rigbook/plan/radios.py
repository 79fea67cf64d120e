"""The channels of the radio plan: each is a receiver or an in-ear transmitter, and what sends on it fits to that."""

from __future__ import annotations

from typing import Final

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.language.record import Record
from rigbook.plan.draft import Draft
from rigbook.plan.gear import Gear
from rigbook.plan.model import Kind, Unit
from rigbook.plan.sockets import Sockets
from rigbook.plan.words import family_words
from rigbook.text.phrase import either, phrase

TRANSMITTER: Final = phrase("transmitter")
SIGNAL: Final = ("mic", "line")


def radio_channels(draft: Draft, gear: Gear, sockets: Sockets) -> None:
    """Look up what the radio channels name; what is wrong with it is added to the findings of `sockets` and `gear`."""
    radio = draft.whole.get("radio")
    channels = radio.get("channels", ()) if isinstance(radio, Record) else ()
    tuned = {entry.name for entry in channels}
    for entry in channels:
        unit = None if entry.name in draft.removed_units else sockets.unit(entry.name, entry.span)
        _of_radio(unit, entry.span, sockets)
        kind = entry.value.get("transmitter") if isinstance(entry.value, Record) else None
        if kind:
            sends = gear.find(str(kind), entry.value.at("transmitter"), ("radio",), TRANSMITTER)
            if unit is not None and unit.kind is not None and unit.family == "radio" and sends is not None:
                # an in-ear transmitter without a channel of its own may be the other end of a line over the air
                beside = any(u.kind is sends and u.name not in tuned for u in sockets.units.values())
                _fits(unit, unit.kind, sends, beside, entry.value.at("transmitter"), sockets)


def _of_radio(unit: Unit | None, span: Span, sockets: Sockets) -> None:
    """A frequency belongs to a receiver or a transmitter, not to what its cable ends in."""
    if unit is None or unit.kind is None or unit.family == "radio":
        return
    radios = [u.name for u in sockets.units.values() if u.family == "radio"]
    message = phrase(
        "`%(unit)s` is a %(family)s, a receiver or an in-ear transmitter belongs here",
        unit=unit.name,
        family=family_words(unit.family),
    )
    fix = (
        phrase("name %(names)s", names=either(f"`{n}`" for n in radios[:3]))
        if radios
        else phrase("name the receiver under `units:`")
    )
    _wrong(message, fix, unit, span, sockets)


def _fits(unit: Unit, own: Kind, sends: Kind, beside: bool, span: Span, sockets: Sockets) -> None:
    """What takes a signal in and sends it is no receiver of a microphone; a receiver hears nobody's ears."""
    takes, gives, mic = _has(own, "in"), _has(own, "out"), sends.get("mic-sensitivity") is not None
    if takes and not gives and mic and sends is not own:
        message = phrase(
            "`%(unit)s` is itself the transmitter, and `%(kind)s` is a microphone", unit=unit.name, kind=sends.name
        )
        _wrong(message, phrase("write `%(line)s`", line=own.name), unit, span, sockets)
    elif gives and not takes and sends.shipped and _has(sends, "in") and not beside:
        message = phrase(
            "`%(unit)s` is the receiver of a microphone, and `%(kind)s` sends to ears", unit=unit.name, kind=sends.name
        )
        _wrong(message, phrase("name a microphone with its transmitter, such as `radio-handheld`"), unit, span, sockets)


def _has(kind: Kind, direction: str) -> bool:
    return any(p.level in SIGNAL and p.direction == direction for p in kind.ports.values())


def _wrong(message: str, fix: str, unit: Unit, span: Span, sockets: Sockets) -> None:
    made = Finding("wrong-kind", Severity.ERROR, message, Label(span), remedy=fix, objects=frozenset({unit.name}))
    sockets.findings.append(made)
