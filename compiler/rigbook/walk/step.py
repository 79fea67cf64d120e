"""What a step of the walk test is made of."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar, cast

from rigbook.graph.arrivals import Arrival
from rigbook.graph.rig import Edge, Rig
from rigbook.plan.model import Bus, Channel
from rigbook.records import frozen
from rigbook.walk.standing import Station

Got = TypeVar("Got")
START_DB = -40
"""Where every fader of a test begins, in dB; then up until the sound is clear (common practice: begin low)."""


@frozen
class Expected:
    """A box that must be heard in a step, and how."""

    end: str
    how: str
    arrival: Arrival
    station: Station


@frozen
class Pair:
    """Two boxes that play the same signal: stood between them, they must add to one sound."""

    a: str
    b: str
    what: str
    """What to listen for, in words."""
    low_hz: float = 0.0
    """Where two boxes meet that share only low frequencies; 0 where they share more."""


@frozen
class Control:
    """A fader, mute or send that matters in a step, and how it is set."""

    sort: str
    """`channel`, `bus` or `output`; empty for none of them."""
    name: str
    """As its place in the handbook is called."""
    words: str
    setting: str


@frozen
class Step:
    """One step: one leg of one bus with everything else muted, or several legs together."""

    key: str
    """Stays the same while the names in it do: `main-left`, with several desks `foh.main-left`."""
    title: str
    kind: str
    """`leg`, `together`, or `direct` for a signal that passes no desk."""
    desk: str
    bus: Bus | None
    leg: str
    legs: tuple[str, ...]
    """Where the signal starts: bus legs, or the sockets of a player that passes no desk."""
    signal: str
    signal_key: str
    channel: Channel | None
    """The channel to play into: the desk's playback channel, if the plan has one."""
    pan: str
    controls: tuple[Control, ...]
    expect: tuple[Expected, ...]
    """In walking order."""
    silent: tuple[str, ...]
    """Boxes that must stay silent."""
    pairs: tuple[Pair, ...]
    fader: str
    """`silent` or `stays`: what pulling the fader of the bus down must do; empty where it is not tried."""
    covers: frozenset[Edge]
    """Every connection that this step exercises."""


def key_of(rig: Rig, desk: str, name: str) -> str:
    """Key of a step: the name in one word, the desk before it where there are several."""
    return (f"{desk}." if several_desks(rig) else "") + name.strip().replace(" ", "-")


def name_of(rig: Rig, desk: str, name: str) -> str:
    """A bus or output as its place in the handbook is called: the desk before it where there are several."""
    return f"{desk} {name}" if several_desks(rig) else name


def several_desks(rig: Rig) -> bool:
    """True if the rig has more than one desk in use."""
    count = once(rig, "desks", lambda: sum(u.family == "desk" and not u.spare for u in rig.plan.units.values()))
    return count > 1


def once(rig: Rig, name: str, make: Callable[[], Got]) -> Got:
    """What the walk test derives from a rig, made when it is first asked for: several pages and checks ask.

    Kept with the rig, like its own cached properties, so that both go together.
    """
    kept = rig.__dict__.setdefault("_walk", {})
    if name not in kept:
        kept[name] = make()
    return cast("Got", kept[name])
