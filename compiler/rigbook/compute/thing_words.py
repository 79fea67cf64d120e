"""What the facts of a plan are called where two revisions are held against each other."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from rigbook.text.phrase import phrase

PROCESSING: Final = MappingProxyType(
    {
        "low-cut": phrase("low cut"),
        "high-cut": phrase("high cut"),
        "delay": phrase("delay time"),
        "gain": phrase("gain"),
        "polarity": phrase("polarity"),
        "limiter": phrase("limiter"),
        "equaliser": phrase("equaliser"),
        "attenuation": phrase("attenuation"),
    }
)
"""What is set by hand on a desk or a device."""
WORDS: Final = MappingProxyType(
    {
        **PROCESSING,
        "name": phrase("name"),
        "number": phrase("channel"),
        "source": phrase("source"),
        "phantom": phrase("phantom power"),
        "stereo": phrase("stereo"),
        "stand": phrase("stand"),
        "cable": phrase("cable"),
        "at": phrase("place"),
        "text": phrase("note"),
        "title": phrase("written on it"),
        "role": phrase("role"),
        "sends": phrase("pick-off of the sends"),
        "pick-off": phrase("pick-off"),
        "kind": phrase("kind"),
        "length": phrase("length"),
        "label": phrase("label"),
        "adaptor": phrase("adaptor"),
        "show": phrase("title"),
        "venue": phrase("venue"),
        "revision": phrase("revision"),
        "date": phrase("date"),
        "doors": phrase("doors"),
        "running-order": phrase("running order"),
        "target-level": phrase("level aimed at"),
        "language": phrase("language of the pages"),
        "does": phrase("does"),
        "phone": phrase("telephone or radio channel"),
        "feeds": phrase("feeds"),
        "rating": phrase("rating"),
        "supply": phrase("supply"),
        "phase": phrase("phase"),
        "outlets": phrase("outlets"),
        "frequency": phrase("frequency"),
        "transmitter": phrase("transmitter"),
        "aim": phrase("aim"),
        "tilt": phrase("tilt"),
        "mount": phrase("mount"),
        "covers": phrase("there for"),
        "supports": phrase("helps"),
        "monitor-for": phrase("monitor for"),
        "serial": phrase("serial number"),
        "owner": phrase("owner"),
        "spare": phrase("spare"),
        "muted": phrase("muted"),
        "pad": phrase("pad"),
        "count": phrase("number"),
        "lengths": phrase("lengths"),
    }
)
"""Words for facts; any other key is said as it is typed in plans."""
SECTIONS: Final = MappingProxyType({"room": phrase("the room"), "power": phrase("power"), "radio": phrase("radio")})
NAMES: Final = MappingProxyType(
    {
        "supplies": phrase("supply %(name)s"),
        "circuits": phrase("circuit %(name)s"),
        "channels": phrase("radio channel %(name)s"),
    }
)
