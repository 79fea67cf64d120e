"""Tables of the speakers page about boxes and what drives them: where they are, loads, limiters, gain, time."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigbook.compute.figure import Figure, Missing, Result
from rigbook.compute.loads import AmpChannel
from rigbook.compute.results import Results
from rigbook.handbook.page import Link
from rigbook.handbook.tables import Table, Value, Worded, table
from rigbook.handbook.words import chosen
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Amount

if TYPE_CHECKING:
    from rigbook.compute.aims import BoxAim
    from rigbook.compute.boxes import Box
    from rigbook.compute.places import Spot
    from rigbook.compute.structure import Chain
    from rigbook.handbook.book import Book
    from rigbook.language.values.positions import Position


def boxes(book: Book, got: Results) -> Table:
    """Where every box is, where it points, and where the model would point it."""
    say = book.say
    heads = (say("Box"), say("Place"), say("Height"), say("Mount"), say("Aim"), say("Tilt"), say("Coverage"),
             say("First row"), say("Last row"), say("Own places covered"), say("Most even aim, advice"))  # fmt: skip
    aims = {a.box: a for a in got.aims}
    return table("boxes", say("Boxes: place, aim and coverage"), heads, (
        _box(book, got, box, aims.get(box.name)) for box in got.boxes.all))  # fmt: skip


def _box(book: Book, got: Results, box: Box, aim: BoxAim | None) -> tuple[Value, ...]:
    say, unit = book.say, box.unit
    spot, pointed, coverage = got.places.unit(box.name), got.places.aim(unit), box.kind.get("coverage")
    place = place_words(book, unit.position, spot)
    height = Amount(f"{spot.z:.1f}", "m") if spot else ""
    across = turn_words(book, pointed.turn) if pointed.said else say("not said")
    sides = say("on its side") if pointed.roll else ""
    wide = coverage.text.replace(" x ", " × ").replace(" deg", "°") if coverage else ""
    own: tuple[Value, ...] = ("", "", "", "")
    if aim:
        own = (_degrees(book, aim.to_first), _degrees(book, aim.to_last), aim.covered, _advice(book, aim))
    return (
        book.link("box", box.name), place, height, chosen(unit.record.get("mount")), across,
        tilt_words(book, pointed.tilt), ", ".join(w for w in (wide, sides) if w), *own,
    )  # fmt: skip


def _advice(book: Book, aim: BoxAim) -> Value:
    turn, tilt = aim.best_turn, aim.best
    if isinstance(turn, Missing) or isinstance(tilt, Missing):
        return turn
    return Worded(f"{turn_words(book, round(turn.value))}, {tilt_words(book, round(tilt.value))}", tilt)


def _degrees(book: Book, result: Result) -> Value:
    return Worded(tilt_words(book, result.value), result) if isinstance(result, Figure) else result


LEFT, RIGHT = phrase("%(length)s left"), phrase("%(length)s right")
BACK, OUT = phrase("%(length)s back"), phrase("%(length)s out")


def place_words(book: Book, position: Position | None, spot: Spot | None) -> str:
    """A place over the ground: `4 m left, 1 m out`; before it the name of the place where one was typed."""
    if spot is None or position is None:
        return position.text if position else book.say("not said")
    say, words = book.say, []
    for metres, sides in ((spot.x, (LEFT, RIGHT)), (spot.y, (BACK, OUT))):
        amount = f"{abs(metres):.2f}".rstrip("0").rstrip(".")
        if amount != "0":
            words.append(say(sides[metres > 0], length=Amount(amount, "m")).replace(" ", "\u00a0"))
    where = ", ".join(words) or say("middle of the stage edge")
    return f"{position.place}{book.tongue.sign(': ')}{where}" if position.place else where


def turn_words(book: Book, degrees: float) -> str:
    """An aim: `18° right`, `out`, `back`."""
    turn = (degrees + 180) % 360 - 180
    if round(abs(turn), 1) in (0.0, 180.0):
        return book.say("out") if abs(turn) < 90 else book.say("back")
    words = Amount(f"{abs(turn):.1f}".removesuffix(".0"))
    return book.say("%(n)s° right", n=words) if turn > 0 else book.say("%(n)s° left", n=words)


def tilt_words(book: Book, degrees: float) -> str:
    """A tilt, or an angle from level: `12° down`, `level`."""
    words = Amount(f"{abs(degrees):.1f}".removesuffix(".0"))
    if not float(words.amount):
        return book.say("level")
    return book.say("%(n)s° up", n=words) if degrees > 0 else book.say("%(n)s° down", n=words)


def loads(book: Book, got: Results) -> Table:
    """What each amplifier channel drives, and what arrives at the box."""
    say = book.say
    heads = (say("Box"), say("Amplifier"), say("Mode"), say("Load"), say("Least load"), say("Rated power"),
             say("Power at the box"), say("Cable loss"), say("Damping factor at the box"))  # fmt: skip
    runs = {(r.amplifier, r.box): r for r in got.cable_runs}

    def rows() -> Iterator[tuple[Value, ...]]:
        for channel in got.amp_channels:
            for here in channel.boxes:
                run = runs.get((channel.socket, here.box))
                none = Missing(phrase("no cable leads there"))
                yield (
                    book.link("box", here.box), _socket(book, channel), channel.mode, channel.load,
                    channel.minimum, channel.power, here.power, run.loss if run else none,
                    run.damping if run else none,
                )  # fmt: skip

    return table("loads", say("Amplifiers and loads"), heads, rows())


def limiters(book: Book, got: Results) -> Table:
    """Voltages of each amplifier channel, and where a limiter should act."""
    say = book.say
    heads = (say("Amplifier"), say("Drives"), say("Gain"), say("Voltage at rated power"), say("Limiter voltage"),
             say("As input level"), say("Limiter as planned"))  # fmt: skip
    rows = (
        (_socket(book, c), tuple(book.link("box", d.box) for d in c.boxes), c.gain, c.volts, c.limiter, c.limiter_input,
         _planned(book, got, c))
        for c in got.amp_channels
    )  # fmt: skip
    return table("limiters", say("Limiters, by channel"), heads, rows)


def _planned(book: Book, got: Results, channel: AmpChannel) -> str:
    """The lowest limiter that the plan sets on the way to the boxes of a channel."""
    stages = [p for d in channel.boxes for _, a in got.boxes.ways.get(d.box, ()) for _, p in a.stages]
    levels = [p.limiter for p in stages if p.limiter]
    return min(levels, key=lambda q: q.value).page() if levels else book.say("none")


def _socket(book: Book, channel: AmpChannel) -> Link:
    return book.link("socket", channel.socket)


def structure(book: Book, got: Results) -> Table:
    """Which stage clips first on the way to each box."""
    say = book.say
    heads = (say("Box"), say("Fed by"), say("Clips first"), say("Each stage, at the desk's meters"),
             say("Headroom of the amplifier"), say("Attenuator"))  # fmt: skip
    rows = (
        (book.link("box", c.box), book.node(c.leg), c.first or say("not known"), _stages(c), c.headroom, c.attenuation)
        for c in got.chains
    )
    return table("structure", say("Gain structure"), heads, rows)


def _stages(chain: Chain) -> Value:
    rising = sorted(chain.stages, key=lambda s: s.clips_at.value)
    words = (phrase("%(stage)s: %(level)s", stage=s.name, level=s.clips_at.text) for s in rising)
    return Worded(joined(words), rising[0].clips_at) if rising else ""


def delays(book: Book, got: Results) -> Table:
    """Delays of fills and delay boxes."""
    say = book.say
    heads = (say("Box"), say("Helps"), say("Judged at"), say("From the main box"), say("From this box"),
             say("Travel, main"), say("Travel, own"), say("Later on purpose"), say("Delay to set"), say("Planned"),
             say("Arrives later by"), say("To the ear"))  # fmt: skip
    rows = (
        (book.link("box", d.box), book.link("box", d.helps), d.where, d.main_distance, d.own_distance, d.main_time,
         d.own_time, d.offset, d.wanted, Amount(f"{d.set_ms:.1f}", "ms"), d.later, _heard(book, d.heard))
        for d in got.delays
    )  # fmt: skip
    return table("delays", say("Delays of fills and delay boxes, against the box they help"), heads, rows)


def _heard(book: Book, word: str) -> str:
    return {
        "first": book.say("comes before the main box"), "shifts": book.say("heard between the two"),
        "fuses": book.say("heard from the main box"), "blurs": book.say("blurs"), "echo": book.say("echo"),
    }.get(word, "")  # fmt: skip


def subs(book: Book, got: Results) -> Table:
    """Subs against the main boxes in time."""
    say = book.say
    heads = (say("Sub"), say("Main box"), say("From the sub"), say("From the main box"), say("Sub later by"))
    rows = (
        (book.link("box", s.sub), book.link("box", s.top), s.sub_distance, s.top_distance, s.later)
        for s in got.sub_alignments
    )
    return table("subs", say("Subs against mains at the mix position"), heads, rows)
