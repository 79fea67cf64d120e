"""What a plan is made of, once its names are resolved. Everything is frozen.

Every item carries `span` (where it is named) and `record` (all keys as read, with their places).
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Any, NamedTuple

from rigbook.findings.place import Span
from rigbook.language.record import Record
from rigbook.language.values.positions import Position, Turn
from rigbook.language.values.racks import RackItem
from rigbook.language.values.sends import Send
from rigbook.plan.insert import Insert
from rigbook.plan.processing import Processing
from rigbook.records import field, frozen
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Quantity


class Socket(NamedTuple):
    """A port of a unit."""

    unit: str
    port: str

    @property
    def id(self) -> str:
        """`unit/port`, as typed in plans."""
        return f"{self.unit}/{self.port}"


@frozen
class Port:
    """A socket of a kind of equipment."""

    name: str
    connector: str
    level: str
    direction: str
    """`in`, `out` or `both`."""
    phantom: bool = False
    pad: bool = False
    block: int = 1
    balanced: bool = True


@frozen
class Kind:
    """A kind of equipment."""

    name: str
    family: str
    title: str
    ports: MappingProxyType[str, Port]
    routes: tuple[tuple[str, str], ...]
    """What goes where inside it, where its family does not say: pairs of port names."""
    modes: MappingProxyType[str, tuple[tuple[str, str], ...]]
    record: Record
    shipped: bool = False

    def get(self, key: str, default: Any = None) -> Any:
        """A rated figure of the kind, by its key in the language."""
        return self.record.get(key, default)


@frozen
class Unit:
    """One piece of equipment in the rig."""

    name: str
    kind: Kind | None
    span: Span
    record: Record
    origin: str = ""
    """File that names it."""

    @property
    def family(self) -> str:
        """Family of its kind; empty where the kind is unknown."""
        return self.kind.family if self.kind else ""

    @property
    def title(self) -> str:
        """What is written on it."""
        return str(self.record.get("title") or self.name)

    @property
    def is_speaker(self) -> bool:
        """Makes sound."""
        return self.family in ("speaker", "powered speaker")

    @property
    def position(self) -> Position | None:
        """Where it stands, if the plan says."""
        got = self.record.get("at")
        return got if isinstance(got, Position) else None

    @property
    def aim(self) -> Turn | None:
        """Where it points, if the plan says."""
        got = self.record.get("aim")
        return got if isinstance(got, Turn) else None

    @property
    def spare(self) -> bool:
        """A spare, not in use."""
        return bool(self.record.get("spare", False))


@frozen
class Channel:
    """An input channel of a desk."""

    desk: str
    number: int
    name: str
    sockets: tuple[Socket, ...]
    """What it listens to: one socket, or two for a stereo channel."""
    plugged: tuple[Socket, ...]
    """Where its source is plugged; as `sockets` unless a splitter or tie line lies between."""
    source_kind: Kind | None
    """Kind of microphone, DI or line source; None where a unit is cabled to the socket."""
    source_key: str
    """`mic`, `di`, `line` or empty."""
    sends: tuple[Send, ...]
    stereo: bool
    span: Span
    record: Record
    origin: str = ""
    insert: Insert | None = None

    @property
    def legs(self) -> tuple[str, ...]:
        """Sides it has: two for a stereo channel, else one without a name."""
        return ("left", "right") if self.stereo else ("",)

    @property
    def kind_of_source(self) -> str:
        """What makes the sound, as typed: `vocal`, `speech`, `instrument` …; empty where not said."""
        return str(self.record.get("source", ""))


@frozen
class Bus:
    """A bus of a desk."""

    desk: str
    name: str
    role: str
    stereo: bool
    sends: tuple[Send, ...]
    pick: str
    """`pre` or `post`: pick-off of sends to it that do not say."""
    processing: Processing
    span: Span
    record: Record
    origin: str = ""
    insert: Insert | None = None

    @property
    def legs(self) -> tuple[str, ...]:
        """Legs it has."""
        return ("left", "right") if self.stereo else ("",)

    @property
    def title(self) -> str:
        """What is written on the desk."""
        return str(self.record.get("title") or self.name)


@frozen
class Output:
    """A leg of a bus leaving by sockets."""

    desk: str
    bus: str
    leg: str
    """`left`, `right`, `mono` (sum of both) or empty."""
    sockets: tuple[tuple[Socket, Span], ...]
    pick: str
    processing: Processing
    span: Span
    record: Record
    origin: str = ""

    @property
    def name(self) -> str:
        """As typed: `main left`."""
        return f"{self.bus} {self.leg}".strip()


@frozen
class Cable:
    """One line from socket to socket. Lines of one multicore share their `sheath`."""

    kind_name: str
    kind: Kind | None
    start: Socket
    end: Socket
    length: Quantity | None
    label: str
    adaptor: str
    split: bool
    sheath: str
    """Name of the physical cable, unique; a cable of its own unless it is one line of a multicore."""
    span: Span
    start_span: Span
    end_span: Span
    origin: str = ""

    @property
    def name(self) -> str:
        """How it is called in findings: its two ends."""
        return f"{self.start.id} -> {self.end.id}"


@frozen
class Rack:
    """A rack with what sits in it, front and rear, by lowest rack unit."""

    name: str
    kind: Kind | None
    front: tuple[tuple[int, RackItem], ...]
    rear: tuple[tuple[int, RackItem], ...]
    span: Span
    record: Record


@frozen
class Change:
    """A change to the house rig: what, why, and how it was."""

    reason: str
    what: str
    """The thing changed, in words: `unit wedge-2`, `output mix-2`, `channel 7`."""
    before: str
    after: str
    span: Span


@frozen
class Acceptance:
    """A finding accepted in this plan, with its reason."""

    check: str
    at: str
    reason: str
    span: Span


@frozen
class Plan:
    """A whole plan: a show on what it builds on."""

    record: Record
    """The top file as read."""
    files: tuple[str, ...]
    """Every file read, the top one first."""
    show: str
    venue: str
    kinds: MappingProxyType[str, Kind]
    """Every kind that is used."""
    units: MappingProxyType[str, Unit]
    channels: tuple[Channel, ...]
    buses: MappingProxyType[tuple[str, str], Bus]
    """By desk and name."""
    outputs: tuple[Output, ...]
    cables: tuple[Cable, ...]
    racks: MappingProxyType[str, Rack]
    places: MappingProxyType[str, Position]
    sections: MappingProxyType[str, Any]
    """Merged values of the sections that need no resolving: room, power, radio, contacts, notes, desk-notes, stock …"""
    changes: tuple[Change, ...]
    exceptions: tuple[Acceptance, ...]
    unresolved: frozenset[str] = field(default_factory=frozenset)
    """Names that could not be resolved even to a near one; what hangs on them is not judged."""
    language: str = "en"
    """Of the handbook's own words: as the show says, else the house."""

    def get(self, key: str, default: Any = None) -> Any:
        """A top-level value of the top file (date, doors, …)."""
        return self.record.get(key, default)

    @property
    def title(self) -> str:
        """The show, or the venue where it is a house rig."""
        return self.show or self.venue or phrase("Untitled plan")
