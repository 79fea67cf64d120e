"""One run of the HTML checker over whole folders."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Sequence
from pathlib import Path

from helpers import tools


def faults(folders: Sequence[Path]) -> list[str]:
    """Errors and warnings in every HTML and SVG file below `folders`, as `file:line: message`."""
    command = [tools.java(), "-Xss4m", "-jar", str(tools.node_file("vnu-jar/build/dist/vnu.jar")),
               "--format", "json", "--stdout", "--also-check-svg", "--skip-non-html", *map(str, folders)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=600, check=False)
    if not done.stdout.startswith("{"):
        raise AssertionError(f"the HTML checker said: {done.stdout}{done.stderr}")
    return [f"{m.get('url', '').removeprefix('file:')}:{m.get('lastLine', 0)}: {m['message']}"
            for m in json.loads(done.stdout)["messages"] if m["type"] == "error" or m.get("subType") == "warning"]
