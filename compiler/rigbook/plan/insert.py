"""The insert of a channel or bus."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigbook.language.record import Record
from rigbook.records import frozen

if TYPE_CHECKING:
    from rigbook.plan.model import Socket


@frozen
class Insert:
    """Outboard equipment in the way of a channel or bus: the sockets it goes out by and comes back by."""

    sends: tuple[Socket, ...]
    returns: tuple[Socket, ...]
    record: Record

    def pairs(self, legs: tuple[str, ...]) -> tuple[tuple[str, Socket, Socket], ...]:
        """Each leg with its two sockets: the last one again where a side is lacking; none where a socket is unknown."""
        if not self.sends or not self.returns:
            return ()
        ends = [(sockets[min(i, len(sockets) - 1)]) for sockets in (self.sends, self.returns) for i in range(len(legs))]
        return tuple(zip(legs, ends[: len(legs)], ends[len(legs) :], strict=True))
