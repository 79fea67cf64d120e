"""Commissioning: what is to be proved of the system, what walk test and checks have proved, what is to measure."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from rigbook.compute.figure import Figure
from rigbook.compute.results import results
from rigbook.handbook.page import Link, Page
from rigbook.handbook.topics import GROUPS, NEEDS, PAGES, PLANNED, ROOM, TOPICS, Topic
from rigbook.records import frozen
from rigbook.text.phrase import counted, joined, phrase
from rigbook.walk.line_check import line_check
from rigbook.walk.prints import fingerprints
from rigbook.walk.record import Word, standing, title_of
from rigbook.walk.steps import AUDIENCE, steps

if TYPE_CHECKING:
    from rigbook.handbook.book import Book
    from rigbook.walk.line_check import Line
    from rigbook.walk.step import Step

MOST: Final = 4
"""Names that a line shows; more are counted."""


@frozen
class Walked:
    """What the walk test has proved of a topic."""

    words: str
    """`8 of 8 steps as expected, 2027-02-06`, or that nobody has walked."""
    good: bool
    todo: tuple[Link, ...]
    """Steps still to walk, the first few."""
    more: int
    """How many more."""


@frozen
class Watched:
    """What the checks say of a topic."""

    words: str
    good: bool
    href: str


@frozen
class Row:
    """One topic."""

    number: int
    topic: str
    without: str
    """Why it does not apply; empty where it does."""
    walked: Walked | None
    watched: Watched | None
    pages: tuple[Link, ...]
    instrument: str
    look: str
    planned: str
    """The planned figure that the reading is held against; empty where there is none."""
    tick: str


@frozen
class Group:
    """Topics of one kind."""

    key: str
    title: str
    rows: tuple[Row, ...]


@frozen
class Commissioning:
    """Data of the page."""

    counts: tuple[str, ...]
    """How many topics are covered by what."""
    groups: tuple[Group, ...]


def page(book: Book) -> Page | None:
    """The commissioning record; none where the plan has neither loudspeakers nor inputs."""
    if not (book.rig.boxes or book.plan.channels):
        return None
    proof = Proof(book)
    rows = {key: tuple(proof.row(i, t) for i, t in enumerate(TOPICS, 1) if t.group == key) for key in GROUPS}
    groups = tuple(Group(key, GROUPS[key], found) for key, found in rows.items() if found)
    data = Commissioning(tuple(_counts([r for g in groups for r in g.rows])), groups)
    return Page("commissioning", phrase("Commissioning"), "commissioning.html", data, phrase("engineer"))


def _counts(rows: list[Row]) -> Iterator[str]:
    applying = [r for r in rows if not r.without]
    proved = [r for r in applying if r.walked]
    measured = [r for r in applying if r.instrument]
    looked = [r for r in applying if r.look and not r.instrument]
    yield counted(len(rows), "%(num)s topic", "%(num)s topics")
    yield phrase("%(number)s that the walk test proves", number=len(proved))
    yield phrase("%(number)s that checks watch over", number=sum(bool(r.watched) for r in applying))
    yield counted(len(measured), "%(num)s that needs an instrument", "%(num)s that need an instrument")
    yield phrase("%(number)s to look at", number=len(looked))
    yield counted(len(rows) - len(applying), "%(num)s that does not apply", "%(num)s that do not apply")


class Proof:
    """What a plan and its records prove, topic by topic."""

    def __init__(self, book: Book) -> None:
        self._book, self._results = book, results(book.rig)
        self._steps, self._lines = steps(book.rig), line_check(book.rig)
        self._now = fingerprints(book.rig)
        self._words: Mapping[str, Word] = standing(book.rig, self._now)
        self._has = {name: ask(self) for name, ask in ASKED.items()}

    def row(self, number: int, topic: Topic) -> Row:
        """A topic as this plan stands to it."""
        tick = f"commissioning {number}"
        if topic.needs and not self._has[topic.needs]:
            return Row(number, topic.words, NEEDS[topic.needs], None, None, (), "", "", "", tick)
        return Row(
            number,
            topic.words,
            "",
            self._walked(topic.walk),
            self._watched(topic.checks),
            tuple(self._pages(topic.pages)),
            topic.instrument,
            topic.look,
            self._planned(topic.planned),
            tick,
        )

    def of_role(self, *roles: str) -> list[Step]:
        """Steps that play one leg of a bus with such a role."""
        return [s for s in self._steps if s.kind == "leg" and s.bus and s.bus.role in roles]

    def chosen(self, name: str) -> list[Step | Line]:
        """The steps and lines that prove something."""
        match name:
            case "alone":
                return [s for s in self._steps if s.kind != "together" and any(e.end in self._boxes for e in s.expect)]
            case "sides":
                return [s for s in self.of_role(*AUDIENCE) if s.leg]
            case "subs":
                return [*self.of_role("subs")]
            case "together":
                return [s for s in self._steps if s.pairs]
            case "monitors":
                return [*self.of_role("monitor")]
            case "feeds":
                return [*self.of_role("feed", "record")]
            case "lines":
                return [*self._lines]
            case "every":
                return [*self._steps, *self._lines]
        return []

    @property
    def _boxes(self) -> tuple[str, ...]:
        return self._book.rig.boxes

    def _walked(self, name: str) -> Walked | None:
        items = self.chosen(name)
        if not items:
            return None
        done = {i.key: self._words[i.key] for i in items if self._holds(i.key)}
        todo = [i for i in items if i.key not in done]
        steps_word = counted(
            len(items), "%(good)s of %(num)s step as expected", "%(good)s of %(num)s steps as expected", good=len(done)
        )
        if done:
            words = joined((steps_word, max(w.date for w in done.values())))
        else:
            words = counted(len(items), "not walked yet: %(num)s step", "not walked yet: %(num)s steps")
        links = tuple(self._book.link("step", i.key, title_of(i)) for i in todo[:MOST]) if done else ()
        return Walked(words, not todo, links, len(todo) - len(links) if done else 0)

    def _holds(self, key: str) -> bool:
        word = self._words.get(key)
        return word is not None and word.good and word.print == self._now[key]

    def _watched(self, checks: tuple[str, ...]) -> Watched | None:
        if not checks:
            return None
        compiled = self._book.compiled
        found = [f.check for f in compiled.findings if f.check in checks]
        accepted = [f.check for f, _ in compiled.accepted if f.check in checks]
        words = [
            *([counted(len(found), "%(num)s finding", "%(num)s findings")] if found else []),
            *([phrase("%(number)s accepted with a reason", number=len(accepted))] if accepted else []),
        ] or [counted(len(checks), "%(num)s check finds nothing", "%(num)s checks find nothing")]
        named = next(iter((*found, *accepted)), "")
        return Watched(joined(words), not found, self._book.href("check", named) if named else "")

    def _pages(self, slugs: Iterable[str]) -> Iterator[Link]:
        """Pages that this book has: some have nothing to say of some plans, as their topics have not."""
        without = {"speakers": "speakers", "power": "mains", "rack": "racks", "radio": "radio"}
        for slug in slugs:
            if slug in self._book.slugs and self._has.get(without.get(slug, ""), True):
                yield Link(PAGES[slug], f"{slug}.html")

    def _planned(self, name: str) -> str:
        room = self._book.section("room")
        match name:
            case "limit" | "background" | "reverberation":
                got = room.get(ROOM[name]) if room else None
                return phrase(PLANNED[name], amount=got.page()) if got else ""
            case "loads":
                loads = [(c.socket, c.load) for c in self._results.amp_channels if isinstance(c.load, Figure)]
                shown = [phrase("%(socket)s %(load)s", socket=s, load=load.text) for s, load in loads]
                return joined(shown)
            case "volts":
                typed = [(s.name, s.record.get("voltage")) for s in self._results.mains.supplies]
                return joined(phrase("%(name)s %(volts)s", name=name, volts=volts) for name, volts in typed if volts)
            case "serials":
                units = [u for u in self._book.units if u.kind]
                known = sum(bool(u.record.get("serial")) for u in units)
                return phrase(
                    "%(known)s of %(all)s units have a serial number in the plan", known=known, all=len(units)
                )
            case "accepted":
                number = len(self._book.compiled.accepted)
                return counted(number, "%(num)s finding accepted", "%(num)s findings accepted")
        return ""

    def has_hung(self) -> bool:
        """Something hangs, or is fixed above the floor."""
        return any(str(u.record.get("mount")) in ("hung", "truss", "wall") for u in self._book.units)

    def has_mains(self) -> bool:
        """The power page has something to say."""
        got = self._results.mains
        return bool(got.draws or got.circuits or got.supplies)

    def has_phases(self) -> bool:
        """A supply has three phases."""
        section = self._book.section("power")
        return any(s.get("phases") == 3 for _, s in self._book.entries(section, "supplies"))

    def has_speakers(self) -> bool:
        """A loudspeaker of a known kind is in use."""
        return bool(self._results.boxes.all)

    def has_amplifiers(self) -> bool:
        """An amplifier drives a loudspeaker."""
        return bool(self._results.amp_channels)

    def has_radio(self) -> bool:
        """A radio channel has a frequency."""
        return bool(self._results.radio.carriers)

    def has_network(self) -> bool:
        """A network cable carries signals."""
        return bool(self._book.rig.carriers.cables)

    def has_racks(self) -> bool:
        """There is a rack."""
        return bool(self._book.plan.racks)


def _walks(name: str) -> Callable[[Proof], bool]:
    return lambda proof: bool(proof.chosen(name))


ASKED: Final = MappingProxyType[str, Callable[[Proof], bool]](
    {
        "speakers": Proof.has_speakers,
        "amplifiers": Proof.has_amplifiers,
        "sides": _walks("sides"),
        "subs": _walks("subs"),
        "together": _walks("together"),
        "monitors": _walks("monitors"),
        "feeds": _walks("feeds"),
        "inputs": _walks("lines"),
        "network": Proof.has_network,
        "mains": Proof.has_mains,
        "phases": Proof.has_phases,
        "racks": Proof.has_racks,
        "radio": Proof.has_radio,
        "hung": Proof.has_hung,
        "never": lambda _: False,
    }
)
