"""What hangs in the air: signals that stop before they are heard, speakers that nothing comes to, and what was
probably meant to join them.

A cable that is missing leaves two loose ends, often far apart in the plan. Joined here by role, side and level, they
are one gap, so that checks can say one thing about one fault.
"""

from __future__ import annotations

from collections.abc import Iterable
from types import MappingProxyType

from rigbook.graph.loose_ends import Start, Want, is_loud
from rigbook.graph.loose_ends import starts as all_starts
from rigbook.graph.loose_ends import wants as all_wants
from rigbook.graph.rig import Rig
from rigbook.graph.sides import OTHER
from rigbook.records import frozen

ANY = MappingProxyType({"top": 1, "sub": 1, "wedge": 1, "fill": 1, "delay": 1, "sink": 1})
FIT = MappingProxyType(
    {
        "mains": {"top": 3, "delay": 1, "fill": 1, "sub": 1},
        "subs": {"sub": 3},
        "monitor": {"wedge": 3, "top": 1, "fill": 1, "sink": 1},
        "fill": {"fill": 3, "top": 2, "wedge": 1},
        "delay": {"delay": 3, "top": 2, "fill": 1},
        "record": {"sink": 3},
        "feed": {**ANY, "sink": 2},
        "matrix": ANY,
        "group": ANY,
    }
)
"""How well a bus of a role goes with a box of a sort; what is not here does not go together."""
SETS = ("mains", "subs", "fill", "delay", "matrix")
"""Roles whose bus often feeds several like boxes at once."""
HEARD = ("doubled", "tied")
"""Starts that are heard somewhere: without a want they are no gap."""
UNKNOWN = "unknown"
"""Starts with a finding of their own; what they take has only been told by it."""
MOST = 200
"""Loose ends of a sort that are compared; a plan with more is half written."""


@frozen
class Gap:
    """A start with the wants that it was probably meant for; or a want alone."""

    start: Start | None
    wants: tuple[Want, ...]


def gaps(rig: Rig) -> tuple[Gap, ...]:
    """Every loose end of a rig, joined where one change would join them."""
    starts, wants = list(all_starts(rig)), list(all_wants(rig))
    pairs = []
    for i, start in enumerate(starts[:MOST]):
        for j, want in enumerate(wants[:MOST]):
            score = _score(rig, start, want)
            if score:
                pairs.append((-score, i, j))
    of: dict[int, list[Want]] = {}
    taken: set[int] = set()
    for _, i, j in sorted(pairs):
        if i not in of and j not in taken:
            of[i] = [wants[j]]
            taken.add(j)
    for i, mine in of.items():
        for j, want in enumerate(wants):
            if j not in taken and _twins(rig, starts[i], mine[0], want):
                mine.append(want)
                taken.add(j)
    told = {i for i, mine in of.items() if mine[0].told}
    joined = [
        Gap(s, tuple(of.get(i, ()))) for i, s in enumerate(starts) if i not in told and (s.why not in HEARD or i in of)
    ]
    alone = (w for j, w in enumerate(wants) if j not in taken and _waits(w))
    return (*joined, *(Gap(None, (w,)) for w in alone))


def _waits(want: Want) -> bool:
    """It lacks a signal: not where it has another's, where a finding tells of it, or at a free track of a recorder."""
    return not want.borrowed and not want.told and (want.cable is not None or want.box != "sink")


def _score(rig: Rig, start: Start, want: Want) -> int:
    """How well a start goes with a want; 0 where it does not."""
    fit = FIT.get(start.role, {}).get(want.box, 0)
    if not _possible(rig, start, want) or not fit or (start.side and want.side == OTHER.get(start.side)):
        return 0
    if start.why == UNKNOWN:
        return fit
    # a bus that is patched to a wrong socket is most often off by a few sockets of the same unit
    near = want.out and want.head.partition("/")[0] == start.node.partition("/")[0]
    lent = max((FIT.get(r, {}).get(want.box, 0) for r in _roles(rig, want.head)), default=0) if want.borrowed else 0
    return fit * 4 - lent + (2 if start.side and start.side == want.side else 0) + (1 if near else 0)


def _roles(rig: Rig, node: str) -> set[str]:
    return {rig.net.nodes[leg]["bus"].role for leg in rig.legs_of(node)}


def _possible(rig: Rig, start: Start, want: Want) -> bool:
    """True where one change of the plan would join them, and the levels go together."""
    loud = is_loud(rig, want.cable.end.id if want.told and want.cable else want.head)
    if want.told:
        return start.why in (("amplifier",) if loud else ("uncabled", "stops", "no output"))
    if start.why == UNKNOWN:
        return not want.borrowed and (want.out if start.output else loud == is_loud(rig, start.node))
    if want.borrowed:
        return start.why in (("amplifier",) if loud else ("uncabled", "stops")) and want.head != start.node
    if want.out:
        return start.why in ("no output", "uncabled", "doubled")
    if start.why == "tied":
        return loud == is_loud(rig, start.node)
    return start.why == "amplifier" if loud else start.why in ("uncabled", "stops")


def _twins(rig: Rig, start: Start, first: Want, other: Want) -> bool:
    """True where `other` would hang on the same line as `first`: like boxes of one bus and side, linked; those of a
    monitor mix at one amplifier.
    """
    amplifier = first.head.partition("/")[0] == other.head.partition("/")[0]
    if (start.side and start.side != other.side) or other.out or first.box != other.box:
        return False
    if start.role not in SETS and not (start.role == "monitor" and amplifier):
        return False
    units = [rig.plan.units.get(w.head.partition("/")[0]) for w in (first, other)]
    kinds = {u.kind.name for u in units if u and u.kind}
    return len(kinds) == 1 and first.ends != other.ends


def names_of(wants: Iterable[Want]) -> frozenset[str]:
    """Everything that a finding about these wants speaks for: sockets, cables' ends and boxes."""
    out: set[str] = set()
    for want in wants:
        out |= {want.head, *want.ends}
        if want.cable:
            out |= {want.cable.start.id, want.cable.end.id}
    return frozenset(out)
