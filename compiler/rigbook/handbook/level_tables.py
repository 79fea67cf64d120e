"""Tables of the speakers page about what is heard: levels, crossovers, the room, feedback, exposure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

from rigbook.compute.crossovers import Crossover, Part
from rigbook.compute.figure import Figure, value_of
from rigbook.compute.levels import AreaLevels, Band
from rigbook.compute.results import Results
from rigbook.compute.room import Loop, schroeder
from rigbook.handbook.drawings.level_map import Figures
from rigbook.handbook.tables import Table, Value, table
from rigbook.handbook.words import both
from rigbook.records import replace
from rigbook.text.phrase import joined, phrase, tightened
from rigbook.units.quantity import Amount

if TYPE_CHECKING:
    from rigbook.handbook.book import Book

LIMIT_NAMES: Final = MappingProxyType(
    {
        "Canada federal": phrase("Canada federal"),
        "EU limit value": phrase("EU limit value"),
        "EU lower action value": phrase("EU lower action value"),
        "EU upper action value": phrase("EU upper action value"),
        "NIOSH recommended": phrase("NIOSH recommended"),
        "OSHA permissible": phrase("OSHA permissible"),
    }
)
"""Published values as pages print them; they keep their English names where a language has none."""


def band_name(book: Book, hz: float) -> str:
    """A band as it is called: `A-weighted`, `125 Hz`, `2 kHz`."""
    if not hz:
        return book.say("A-weighted")
    return Amount(f"{hz:g}", "Hz") if hz < 1000 else Amount(f"{hz / 1000:g}", "kHz")


def levels(book: Book, area: AreaLevels, heard: Sequence[float]) -> Table:
    """Lowest, highest and mean level of each band over an area; only bands in which anything is heard."""
    say, name = book.say, area.area.name
    heads = (say("Band"), say("Lowest"), say("Highest"), say("Mean"), say("Spread"))
    rows = ((band_name(book, b.hz), b.lowest, b.highest, b.mean, b.spread) for b in area.bands if b.hz in heard)
    caption = say("Levels over %(area)s at %(n)s places", area=name, n=len(area.points))
    return replace(table(f"levels-{name}", caption, heads, rows), grid=True)


def summary(book: Book, areas: Sequence[AreaLevels]) -> Table:
    """Every area in a line."""
    say = book.say
    heads = (say("Area"), say("Lowest"), say("Highest"), say("Mean"), say("Spread"), say("First row"),
             say("Outside coverage"))  # fmt: skip

    def row(area: AreaLevels) -> tuple[Value, ...]:
        a: Band = area.bands[0]
        return book.link("area", area.area.name), a.lowest, a.highest, a.mean, a.spread, area.first_row, area.uncovered

    return table("levels", say("A-weighted level of each area"), heads, map(row, areas))


def printed(book: Book, area: str, shown: Figures) -> Table:
    """The figures printed into a map, A-weighted: a row for each distance from the stage."""
    say = book.say
    columns = sorted({x for row in shown.rows for x, _, _ in row})
    heads = (say("Out"), *(_across(book, x) for x in columns))
    rows = []
    for row in shown.rows:
        at = {x: level for x, _, level in row}
        rows.append((Amount(f"{row[0][1]:.1f}", "m"), *(f"{at[x]:.0f}" if x in at else "" for x in columns)))
    caption = say("Figures of the map of %(area)s, A-weighted, dB", area=area)
    return replace(table(f"places-{area}", caption, heads, rows), grid=True)


def _across(book: Book, x: float) -> str:
    words = Amount(f"{abs(x):.1f}", "m")
    if abs(x) < 0.05:
        return book.say("middle")
    return tightened(book.say("%(n)s right", n=words) if x > 0 else book.say("%(n)s left", n=words))


def crossovers(book: Book, got: Results) -> Table:
    """Where mains and subs meet, and how they add."""
    say = book.say
    heads = (say("Main box"), say("Sub"), say("Filters"), say("Crosses at"), say("Overlap"), say("Lowest"),
             say("Highest"), say("Advice"))  # fmt: skip
    rows = (
        (
            tuple(book.link("box", b) for b in (c.upper.box, *c.also)),
            book.link("box", c.lower.box),
            joined((_filters(c.lower, "high"), _filters(c.upper, "low")), "; "),
            c.crossing,
            c.overlap,
            c.lowest,
            c.highest,
            advice(book, c),
        )
        for c in got.crossovers
    )
    return table("crossover-pairs", say("Crossovers of mains and subs"), heads, rows)


def _filters(part: Part, side: str) -> str:
    cuts = part.high_cuts if side == "high" else part.low_cuts
    return joined((part.box, joined(joined((cut.text, " (", where, ")"), "") for where, cut in cuts)), ": ")


def advice(book: Book, pair: Crossover) -> str:
    """What polarity and delay would do, in a sentence."""
    say, best, turned = book.say, pair.advice, pair.polarity_advice
    if best is None:
        return say("not known")
    if not best.invert and not best.delay_s:
        return say("as it is")
    words = []
    if best.invert:
        words.append(say("turn the polarity of one of the two"))
    if best.delay_s:
        box = pair.upper.box if best.delay_s > 0 else pair.lower.box
        words.append(say("delay %(box)s by %(ms)s ms more", box=box, ms=Amount(f"{abs(best.delay_s) * 1000:.2f}")))
    hole = say("lowest then %(then)s dB, now %(now)s dB", then=_db(best.hole_db), now=_db(best.hole_now_db))
    alone = ""
    if best.delay_s and turned and turned.invert:
        alone = book.tongue.sign("; ") + say("polarity alone: %(db)s dB", db=_db(turned.hole_db))
    return f"{', '.join(words)} ({hole}{alone})"


def _db(value: float, unit: str = "") -> Amount:
    text = f"{value:.1f}"
    return Amount("0.0" if text == "-0.0" else text, unit)


def curve(book: Book, pair: Crossover, ident: str) -> Table:
    """The curves of a pair in third octaves, two octaves either side of where they meet."""
    say = book.say
    heads = (say("Frequency"), pair.lower.box, pair.upper.box, say("Sum"))
    rows = ((Amount(f"{hz:.0f}", "Hz"), *(_db(db, "dB") for db in each)) for hz, *each in pair.thirds)
    caption = say("%(pair)s: level of each way and of their sum", pair=both((pair.upper.box, pair.lower.box)))
    return replace(table(ident, caption, heads, rows), grid=True)


def room(book: Book, got: Results) -> Table:
    """Direct against reverberant sound."""
    say = book.say
    heads = (say("Box"), say("Critical distance"), say("Direct over reverberant at the mix position"))
    rows = ((book.link("box", b.box), b.critical, b.at_mix) for b in got.boxes_in_room)
    return table("critical-distances", say("Critical distance"), heads, rows)


def room_measures(book: Book, got: Results) -> Iterator[tuple[str, str, str]]:
    """Name, amount and basis of the figures of the room as a whole."""
    border = schroeder(got.places)
    if isinstance(border, Figure):
        yield book.say("Schroeder frequency"), border.text, worked_from(border)


def worked_from(figure: Figure) -> str:
    """How a figure was found and what went in."""
    given = [
        value if isinstance(value, str) else phrase("%(name)s %(amount)s", name=name, amount=Amount(f"{value:g}", unit))
        for name, value, unit in ((n, v if isinstance(v, str) else round(v, 1), u) for n, v, u in figure.inputs)
    ]
    return joined((figure.formula, joined(given)), ": ") if given else figure.formula


def feedback(book: Book, got: Results) -> Table:
    """For each microphone the box that leaves it the least margin."""
    say = book.say
    heads = (say("Microphone"), say("Least margin against"), say("Distance"), say("Off the axis"),
             say("Potential gain"), say("Needed gain"), say("Margin"))  # fmt: skip
    worst: dict[tuple[str, int], Loop] = {}
    for x in got.loops:
        key = (x.channel.desk, x.channel.number)
        if key not in worst or _margin(x) < _margin(worst[key]):
            worst[key] = x
    rows = (
        (book.channel(x.channel, f"{x.channel.number} {x.channel.name}"), book.link("box", x.box), x.distance,
         x.off_axis, x.potential, x.needed, x.margin)
        for x in worst.values()
    )  # fmt: skip
    return table("feedback", say("Gain before feedback, of each microphone its worst box"), heads, rows)


def _margin(loop: Loop) -> float:
    got = value_of(loop.margin)
    return float("inf") if got is None else got


def exposure(book: Book, got: Results) -> Table:
    """Level, dose and time to each published value where people stand."""
    say = book.say
    names = [r.name for r in got.exposures[0].reached] if got.exposures else []
    heads = (
        say("Place"),
        say("Level"),
        say("Dose of the show"),
        say("Daily exposure"),
        say("Against the WHO value for audiences"),
        *(LIMIT_NAMES.get(n, n) for n in names),
    )
    rows = ((e.where, e.level, e.dose, e.daily, e.audience, *(r.time for r in e.reached)) for e in got.exposures)
    caption = say("Exposure, and the time after which each published value is reached")
    return table("exposure", caption, heads, rows)
