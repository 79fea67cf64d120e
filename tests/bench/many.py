"""Run one verb over many plans in one process, as a build service would: many.py VERB OUT PLAN..."""

from __future__ import annotations

import sys
from pathlib import Path

from rigbook.cli import main

if __name__ == "__main__":
    verb, out, *plans = sys.argv[1:]
    for n, plan in enumerate(plans):
        if code := main([verb, plan, "--out", str(Path(out) / str(n))]):
            sys.exit(code)
