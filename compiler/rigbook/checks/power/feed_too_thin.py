"""A feed whose conductors are too thin for its breaker.

*What it finds*
A feed of a circuit or of a supply, or a mains cable from one distribution to the next, that carries less current for
long than the breaker before it lets through: by published tables, as the plan says that it lies (`laid`), with the air
around it (the limit `feed-air`) and the loaded cables beside it (`bunch`). The lead of a single device is left out.

*Why it matters on stage*
The cable gets hot before the breaker trips: insulation softens, plugs char, something burns.

*Put it right*
Use a thicker cable, a smaller breaker, or lay the cable so that it cools. Mains work is for competent people; the local
code decides.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16}
    power:
      supplies: {house: {rating: 63 A}}
      circuits:
        stage: {supply: house, rating: 32 A, length: 10 m, area: 2.5 mm2, feeds: desk}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16}
    power:
      supplies: {house: {rating: 63 A}}
      circuits:
        stage: {supply: house, rating: 16 A, length: 10 m, area: 2.5 mm2, feeds: desk}

*Source*
IEC 60364-5-52:2009, tables B.52.2, B.52.4, B.52.10, B.52.14 and B.52.17; NEC (NFPA 70) 310.16 for wire gauges (from
memory). Elsewhere the local code decides.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.compute.feeds import Feed
from rigbook.compute.figure import Figure, value_of
from rigbook.compute.results import results
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.language.record import Record
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING
SETTINGS = ("feed-air",)
THINNEST_M2 = 0.5e-6
"""BS 7671, table 4F3A, begins here (from memory)."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each feed and each cable between distributions."""
    mains = results(rig).mains
    fed = [(s.name, s.record, s.feed, s.rating) for s in mains.supplies]
    for name, record, feed, rating in (*fed, *((c.name, c.record, c.feed, c.rating) for c in mains.circuits)):
        carries, area = value_of(feed.carries), record.get("area")
        if rating is not None and carries is not None and carries < rating:
            yield _feed(name, record, feed, rating)
        elif rating is not None and carries is None and area is not None and area.value < THINNEST_M2:
            yield _finding(
                phrase("the feed of `%(name)s` is thinner than any mains cable", name=name), name, record, feed, rating
            )
    for lead in mains.leads:
        carries = value_of(lead.carries)
        if carries is not None and carries < lead.needs.value:
            yield Finding(
                "feed-too-thin",
                SEVERITY,
                phrase("the cable to `%(unit)s` carries %(carries)s for long", unit=lead.to, carries=lead.carries),
                Label(lead.cable.span, phrase("%(needs)s may flow in it before a breaker trips", needs=lead.needs)),
                effect=phrase("the cable gets hot before the breaker trips"),
                remedy=phrase("use a thicker cable; mains work is for competent people"),
                objects=frozenset({lead.cable.start.id, lead.cable.end.id}),
            )


def _feed(name: str, record: Record, feed: Feed, rating: float) -> Finding:
    message = phrase(
        "the feed of `%(name)s` carries %(carries)s for long, its breaker lets %(rating)s through",
        name=name,
        carries=feed.carries,
        rating=Amount(f"{rating:g}", "A"),
    )
    return _finding(message, name, record, feed, rating)


def _finding(message: str, name: str, record: Record, feed: Feed, rating: float) -> Finding:
    amps = Amount(f"{rating:g}", "A")
    here = phrase("%(carries)s as it lies", carries=feed.carries) if isinstance(feed.carries, Figure) else ""
    remedy = phrase("use a smaller breaker, or lay it so that it cools; mains work is for competent people")
    if feed.least_area is not None:
        area = Amount(f"{feed.least_area:g}", "mm²")
        remedy = phrase("use %(area)s or more, or a smaller breaker; mains work is for competent people", area=area)
    return Finding(
        "feed-too-thin",
        SEVERITY,
        message,
        Label(record.at("area"), here),
        (Label(record.at("rating"), phrase("%(rating)s breaker", rating=amps)),),
        effect=phrase("the cable gets hot before the breaker trips"),
        remedy=remedy,
        objects=frozenset({name}),
    )
