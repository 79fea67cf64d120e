"""Why a formula gives no figure for a value, in words that a page can say in any language."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from rigbook.physics.errors import OutOfRange
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount, number

QUANTITIES: Final = MappingProxyType({str(name): name for name in (
    phrase("A-weighted level"), phrase("absorption"), phrase("absorption area"), phrase("air pressure"),
    phrase("analogue level"), phrase("cable length"), phrase("conductor area"), phrase("conductor resistance"),
    phrase("conductor temperature"), phrase("coverage"), phrase("crest factor"), phrase("criterion time"),
    phrase("critical distance"), phrase("current"), phrase("damping factor of the amplifier"), phrase("declared load"),
    phrase("declared power"), phrase("delay"), phrase("directivity factor"), phrase("distance"), phrase("efficiency"),
    phrase("exchange rate"), phrase("frequency"), phrase("frequency by pressure"), phrase("full scale"), phrase("gain"),
    phrase("idle power"), phrase("impedance"), phrase("load impedance"), phrase("loop resistance"),
    phrase("lower frequency"), phrase("microphone sensitivity"), phrase("number of cables"),
    phrase("number of channels"), phrase("number of declared loads"), phrase("number of loaded cores"),
    phrase("number of loudspeakers"), phrase("number of open microphones"), phrase("offset"), phrase("period"),
    phrase("power"), phrase("power factor"), phrase("power of one channel"), phrase("rated power"),
    phrase("reference load"), phrase("relative humidity"), phrase("reverberation time"), phrase("room volume"),
    phrase("share of rated power"), phrase("sound pressure level"), phrase("speed of sound"),
    phrase("stability margin"), phrase("supply voltage"), phrase("temperature"), phrase("temperature of the air"),
    phrase("temperature of the insulation"), phrase("time"), phrase("time of all parts"), phrase("upper frequency"),
    phrase("voltage"), phrase("volume"), phrase("water vapour"), phrase("wire gauge"),
)} | {"level": phrase("level of the signal or sound")})
"""Names of what the formulas of figures refuse, as `physics/` says them."""


def refusal(wrong: OutOfRange) -> str:
    """The sentence of a refused value: what it is, and the range in which its formula holds."""
    low, high = wrong.range
    name, unit = QUANTITIES.get(wrong.name, wrong.name), wrong.unit
    value = _amount(wrong.value, unit)
    if low is not None and high is not None:
        return phrase(
            "%(name)s %(value)s is outside %(low)s to %(high)s, where this formula holds",
            name=name, value=value, low=_amount(low, ""), high=_amount(high, unit),
        )
    limit = low if low is not None else high
    if limit is None:
        return phrase("%(name)s %(value)s is not a number for which this formula holds", name=name, value=value)
    words = {"name": name, "value": value, "limit": _amount(limit, unit)}
    if low is not None and wrong.value < low:
        return phrase("%(name)s %(value)s is below %(limit)s, where this formula holds", **words)
    if low is not None:
        return phrase("%(name)s %(value)s is not above %(limit)s, where this formula holds", **words)
    if wrong.value > limit:
        return phrase("%(name)s %(value)s is above %(limit)s, where this formula holds", **words)
    return phrase("%(name)s %(value)s is not below %(limit)s, where this formula holds", **words)


def _amount(value: float, unit: str) -> str:
    return Amount(number(value, 6) if abs(value) < float("inf") else f"{value:g}", unit)
