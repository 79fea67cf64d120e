"""How large a plan file may be. Generous for any show, small enough that no file can exhaust the machine."""

from __future__ import annotations

from typing import Final

MAX_BYTES: Final = 2_000_000
"""Size of one file."""
MAX_CHAIN: Final = 30
"""Files that build on one another in a row. A show on a house on a library is three."""
MAX_FILES: Final = 1_000
"""Files of one plan, with the records of its walk tests."""
MAX_NODES: Final = 200_000
"""Values in one file."""
MAX_DEPTH: Final = 12
"""Groups and lists inside one another. The deepest key of the language lies at about half of that."""
MAX_KEY: Final = 200
"""Characters in one key."""
MAX_REPAIRS: Final = 20
"""Places where the YAML of one file is mended and read on, to find the next mistake in the same run."""
LARGE: Final = 200_000
"""Characters from which on a fifth of those repairs is made: each one reads the file anew."""
