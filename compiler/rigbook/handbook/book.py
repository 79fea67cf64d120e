"""What every page is given: the compiled plan, who reads it, and the answers that several pages ask."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Any, NamedTuple

from rigbook.graph import kinds as k
from rigbook.graph.codes import codes
from rigbook.graph.rig import Edge, Rig
from rigbook.graph.words import node_words
from rigbook.handbook import anchors, desk_side
from rigbook.handbook.contents import entries
from rigbook.handbook.page import Link
from rigbook.handbook.pictures import Pictures
from rigbook.handbook.signals import carried
from rigbook.handbook.tongue import ENGLISH, Tongue
from rigbook.handbook.views import shows
from rigbook.language.record import Record
from rigbook.language.values.names import SocketRef
from rigbook.plan.model import Bus, Cable, Channel, Plan, Socket, Unit
from rigbook.records import frozen
from rigbook.text.phrase import joined
from rigbook.text.tree import Scalar

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.checks.compiled import Compiled


class Plugged(NamedTuple):
    """A cable at a socket, and the socket at its other end."""

    cable: Cable
    far: Socket


class Racked(NamedTuple):
    """Where a unit is mounted."""

    rack: str
    side: str
    low: int


class Note(NamedTuple):
    """A note of the plan, rendered."""

    title: str
    html: Markup


@frozen
class Book:
    """A compiled plan on its way to pages for one view."""

    compiled: Compiled
    rig: Rig
    plan: Plan
    view: str
    slugs: frozenset[str]
    """Pages that this view has."""
    pictures: Pictures
    """Pictures that notes show, by the name they get in the handbook."""
    tongue: Tongue = ENGLISH
    """The language of the handbook's own words."""
    data_file: str = ""
    """Name of the file with all results; empty where none is written."""
    since: Rig | None = None
    """An earlier revision that the Changes page holds this one against; None where nobody asked."""

    @staticmethod
    def of(compiled: Compiled, view: str, tongue: Tongue = ENGLISH) -> Book:
        """The book of a plan that could be read. ValueError where there is none."""
        if compiled.plan is None or compiled.rig is None:
            raise ValueError("no plan was read")
        slugs = frozenset(e.slug for e in entries(view))
        return Book(compiled, compiled.rig, compiled.plan, view, slugs, Pictures(compiled.root), tongue)

    def say(self, message: str, **values: Any) -> str:
        """The handbook's own words in its language; values stand in them as `%(name)s`."""
        return self.tongue.say(message, **values)

    def shows(self, record: Record) -> bool:
        """True where this view may show a record that can be marked."""
        return shows(self.view, record)

    def text_of(self, record: Record | None) -> Markup:
        """The note of a thing, where this view may read it; empty where not, or where there is none."""
        return self.note(record.get("text") if record and self.shows(record) else None)

    def href(self, sort: str, name: str) -> str:
        """The address of a thing's place; empty where this view has no such page."""
        return anchors.href(sort, name) if anchors.PAGES[sort].removesuffix(".html") in self.slugs else ""

    def link(self, sort: str, name: str, text: str = "") -> Link:
        """A thing's name with the address of its place."""
        return Link(text or name, self.href(sort, name))

    def socket(self, socket: Socket) -> Link:
        """A socket with the address of its place; without one where the plan knows no such unit."""
        return Link(socket.id, self.href("socket", socket.id) if socket.unit in self.plan.units else "")

    def channel(self, channel: Channel, text: str) -> Link:
        """A channel under the words given."""
        return self.link("channel", f"{channel.desk} {channel.number}", text)

    def bus(self, bus: Bus) -> Link:
        """A bus with the address of its place."""
        return self.link("bus", self.desk_name(bus.desk, bus.name), bus.name)

    def node(self, node: str) -> Link:
        """A place on the way of a signal, in words, with its address."""
        data = self.rig.net.nodes[node]
        match data["kind"]:
            case k.CHANNEL | k.SOURCE | k.INSERT_POINT if "channel" in data:
                return self.channel(data["channel"], node_words(self.rig, node))
            case k.BUS | k.INSERT_POINT:
                return Link(node_words(self.rig, node), self.bus(data["bus"]).href)
            case k.SOCKET | k.UNKNOWN if "socket" in data:
                return self.socket(data["socket"])
            case k.BOX | k.SINK:
                return self.link("box", node)
            case _:
                return Link(node, "")

    def label(self, cable: Cable) -> str:
        """What is written large on both ends of a cable: its short code."""
        return self.codes[cable.sheath]

    @cached_property
    def codes(self) -> Mapping[str, str]:
        """The short code of each sheath."""
        return codes(self.plan)

    def kind_title(self, name: object) -> str:
        """What people call a kind; its name where it is not known, nothing where none is typed."""
        kind = self.plan.kinds.get(str(name))
        return kind.title if kind else str(name or "")

    def note(self, text: Scalar | None) -> Markup:
        """A note as HTML; empty where there is none. What is wrong with it has been found by the checks."""
        from markupsafe import Markup

        if text is None:
            return Markup("")
        from rigbook.text.notes import render

        folder = text.span.file.rpartition("/")[0]
        html, _ = render(
            text.text, text.span, picture=lambda path: self.pictures.add(folder, path), link=self._named, top=3
        )
        return Markup(html)

    def _named(self, name: str) -> str | None:
        from rigbook.handbook.names import place_of

        place = place_of(self.rig, name)
        return (self.href(*place) or None) if place else None

    def notes_on(self, slug: str, made: frozenset[str]) -> tuple[Note, ...]:
        """The notes that stand on a page: those that say so; on the front page also those that say nothing, or name a
        page that is not among the pages `made`.
        """

        def page(record: Record) -> str:
            if not record.get("page"):
                return "" if record.get("about") else "index"
            return str(record.get("page")) if record.get("page") in made else "index"

        return tuple(Note(n, self.note(r.get("text"))) for n, r in self._notes if page(r) == slug)

    def notes_about(self, *names: str) -> tuple[Note, ...]:
        """The notes about a unit, channel or bus (under any of its names) that name no page."""
        return tuple(
            Note(title, self.note(record.get("text")))
            for title, record in self._notes
            if _named(record.get("about")) in names and not record.get("page")
        )

    def notes_in(self, unit: str) -> tuple[Note, ...]:
        """The notes about a unit or one of its sockets that name no page."""
        about = (r.get("about") for _, r in self._notes)
        sockets = {ref.text for ref in about if isinstance(ref, SocketRef) and ref.unit == unit and ref.port}
        return self.notes_about(unit, *sorted(sockets))

    @cached_property
    def _notes(self) -> tuple[tuple[str, Record], ...]:
        """Notes that this view may read."""
        found = self.plan.sections.get("notes", ())
        return tuple((e.name, e.value) for e in found if isinstance(e.value, Record) and self.shows(e.value))

    def section(self, name: str) -> Record | None:
        """A section that is one group of keys: `room`, `power`, `radio`."""
        got = self.plan.sections.get(name)
        return got if isinstance(got, Record) else None

    def entries(self, record: Record | None, key: str) -> tuple[tuple[str, Any], ...]:
        """The named values of a key of a section."""
        return tuple((e.name, e.value) for e in (record.get(key, ()) if record else ()) if e.value is not None)

    @cached_property
    def desks(self) -> tuple[str, ...]:
        """Desks in use."""
        return tuple(u.name for u in self.plan.units.values() if u.family == "desk" and not u.spare)

    def desk_name(self, desk: str, name: str) -> str:
        """A bus, output or channel as it is called: with its desk where there are several."""
        return joined((desk, name), " ") if self._several else name

    @cached_property
    def _several(self) -> bool:
        return sum(u.family == "desk" for u in self.plan.units.values()) > 1

    @cached_property
    def plugged(self) -> Mapping[str, tuple[Plugged, ...]]:
        """Cables at each socket, by `unit/port`."""
        out: dict[str, list[Plugged]] = {}
        for cable in self.plan.cables:
            out.setdefault(cable.start.id, []).append(Plugged(cable, cable.end))
            out.setdefault(cable.end.id, []).append(Plugged(cable, cable.start))
        return {socket: tuple(cables) for socket, cables in out.items()}

    @cached_property
    def sheaths(self) -> Mapping[str, tuple[Cable, ...]]:
        """The lines of each physical cable, by its name, in plan order."""
        out: dict[str, list[Cable]] = {}
        for cable in self.plan.cables:
            out.setdefault(cable.sheath, []).append(cable)
        return {sheath: tuple(lines) for sheath, lines in out.items()}

    @cached_property
    def racked(self) -> Mapping[str, Racked]:
        """Where each mounted unit sits."""
        return {
            item.unit: Racked(rack.name, side, low)
            for rack in self.plan.racks.values()
            for side, rows in (("front", rack.front), ("rear", rack.rear))
            for low, item in rows
            if item.unit
        }

    @cached_property
    def on_cable(self) -> Mapping[str, list[Edge]]:
        """What is on each sheath."""
        return self.rig.by_cable()

    @cached_property
    def anchored(self) -> frozenset[str]:
        """Sockets that some page names, so that they have a place of their own even where nothing is in them."""
        named = {s.id for c in self.plan.channels for s in (*c.sockets, *c.plugged)}
        named |= {s.id for o in self.plan.outputs for s, _ in o.sockets}
        return frozenset(named)

    def sockets_of(self, unit: str) -> tuple[Socket, ...]:
        """Sockets of a unit that the plan names, known to its kind or not."""
        return self._by_unit.get(unit, ())

    @cached_property
    def _by_unit(self) -> Mapping[str, tuple[Socket, ...]]:
        out: dict[str, dict[Socket, None]] = {}
        named = [s for c in self.plan.cables for s in (c.start, c.end)]
        named += [s for c in self.plan.channels for s in (*c.sockets, *c.plugged)]
        named += [s for o in self.plan.outputs for s, _ in o.sockets]
        for socket in named:
            out.setdefault(socket.unit, {})[socket] = None
        return {unit: tuple(sockets) for unit, sockets in out.items()}

    def desk_side(self, socket: str) -> tuple[tuple[Link, ...], str, str]:
        """The channels that listen to a socket or the bus legs that leave by it; the source plugged into it, and the
        name of its tick box.
        """
        return self._patched.get(socket, ()), *self._sources.get(socket, ("", ""))

    @cached_property
    def _patched(self) -> Mapping[str, tuple[Link, ...]]:
        return desk_side.patched(self)

    @cached_property
    def _sources(self) -> Mapping[str, tuple[str, str]]:
        return desk_side.sources(self.plan)

    @cached_property
    def carried(self) -> Mapping[str, tuple[str, ...]]:
        """What each socket carries, in the names on the desk."""
        return carried(self.rig)

    @cached_property
    def units(self) -> tuple[Unit, ...]:
        """Units in use, in plan order."""
        return tuple(u for u in self.plan.units.values() if not u.spare)


def _named(about: object) -> str:
    """What a note is about, as one name."""
    return about.text if isinstance(about, SocketRef) else str(about or "")
