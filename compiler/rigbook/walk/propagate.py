"""How a leg arrives at what it reaches: the graph's answer, under the name that the walk test knows it by."""

from __future__ import annotations

from rigbook.graph.arrivals import Arrival, arrivals

__all__ = ["Arrival", "arrivals"]
