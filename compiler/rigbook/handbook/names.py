"""From a name as typed in a note to the thing's place in the handbook."""

from rigbook.graph.named import place_of

__all__ = ["place_of"]
