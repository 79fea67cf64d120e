"""What comes out of the store, by weight: pieces as their kind declares, cables by the metre of what is pulled."""

from __future__ import annotations

from typing import NamedTuple

from rigbook.compute.stock import Use
from rigbook.plan.model import Plan
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Quantity

BY_PIECE = phrase("weight of one times their number")
BY_METRE = phrase("weight of one metre times their lengths, without plugs, drums and cases")


class Weight(NamedTuple):
    """The weight of all pieces of a kind."""

    kg: float
    """Of those whose weight is known."""
    unknown: int
    """Pieces whose weight is not known: their kind states none, or a cable has no length."""
    how: str


def pulled(plan: Plan, use: Use) -> Weight:
    """What is pulled of a kind: of a cable the pieces that serve the runs, which are longer than the runs."""
    kind = plan.kinds.get(use.kind)
    if kind is not None and kind.family == "cable":
        lengths = [sum(g.pieces) or g.need.length_m for g in use.given]
        lengths += [n.length_m for n in (use.lacking if use.owned else use.needs)]
        metre = kind.get("weight-per-metre")
        if not isinstance(metre, Quantity):
            return Weight(0.0, len(lengths), BY_METRE)
        known = [metres for metres in lengths if metres is not None]
        return Weight(sum(known) * metre.value, len(lengths) - len(known), BY_METRE)
    weight = kind.get("weight") if kind else None
    if not isinstance(weight, Quantity):
        return Weight(0.0, len(use.needs), BY_PIECE)
    return Weight(weight.value * len(use.needs), 0, BY_PIECE)
