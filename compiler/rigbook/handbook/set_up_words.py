"""What the steps of the day are called, and what may hurt in them."""

from __future__ import annotations

from types import MappingProxyType

from rigbook.text.phrase import phrase

TITLES = MappingProxyType(
    {
        "place": phrase("Place the boxes"),
        "rack": phrase("Fill the racks"),
        "connect": phrase("Connect"),
        "power": phrase("Power up"),
        "route": phrase("Route the desk"),
        "process": phrase("Process"),
        "patch": phrase("Patch the inputs"),
        "test": phrase("Walk the rig"),
        "tune": phrase("Tune"),
        "line": phrase("Line check and sound check"),
        "hand": phrase("Hand over"),
        "show": phrase("Show"),
        "strike": phrase("Put back and strike"),
    }
)
CAUTIONS = MappingProxyType(
    {
        "place": phrase(
            "Hung and stand-mounted loads can fall. Hanging is work for competent people with rated parts, a second "
            "suspension and the maker's instructions; local codes decide. Lift in pairs what is too much for one."
        ),
        "rack": phrase("A filled rack is heavy and tips. Fill it from the bottom, lift it with enough people."),
        "connect": phrase(
            "A speaker output never goes into a line input: it destroys the input. Cables across a walkway are covered."
        ),
        "power": phrase(
            "Mains power kills. Distribution, generators and anything without a plug belong to licensed people; local "
            "codes decide. The figures here are planning estimates."
        ),
        "line": phrase("Channel and amplifier muted or down while a line is plugged or phantom power is switched."),
        "strike": phrase(
            "Off before unplugging. What hangs comes down by competent people, with nobody below; lift in pairs what "
            "is too much for one."
        ),
        "test": phrase(
            "Begin quiet. Loud noise damages hearing at once and for good: warn everyone, keep ears away from boxes."
        ),
    }
)
