"""What a change to the plan asks of the ears: the steps and lines of the walk test that are otherwise, or new."""

from __future__ import annotations

from rigbook.graph.rig import Rig
from rigbook.records import frozen
from rigbook.walk.line_check import Line, line_check
from rigbook.walk.prints import fingerprints
from rigbook.walk.record import title_of
from rigbook.walk.step import Step
from rigbook.walk.steps import steps


@frozen
class Again:
    """A step to walk because of a change."""

    key: str
    title: str
    new: bool
    """There was no such step before."""


def again(old: Rig, new: Rig) -> tuple[Again, ...]:
    """Steps and lines of the newer rig whose fingerprint the older one has not, in walking order."""
    before, now = fingerprints(old), fingerprints(new)
    items: list[Step | Line] = [*steps(new), *line_check(new)]
    return tuple(Again(i.key, title_of(i), i.key not in before) for i in items if before.get(i.key) != now[i.key])


def no_more(old: Rig, new: Rig) -> tuple[str, ...]:
    """Titles of the steps and lines that there are no more."""
    now = fingerprints(new)
    items: list[Step | Line] = [*steps(old), *line_check(old)]
    return tuple(title_of(i) for i in items if i.key not in now)
