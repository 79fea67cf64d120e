"""Programs that tests drive and that may not be on a machine: a browser, Java, two npm packages.

A missing one is a skip that names it; where `CI=true` it is a failure, so that a green run there means that the
test ran.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
TMP_PROFILE_FLAGS = ("--no-first-run", "--disable-background-networking", "--disable-component-update",
                     "--disable-sync", "--disable-gpu")


def missing(what: str, remedy: str) -> None:
    """End the test: `what` is not on this machine."""
    text = f"{what} not found; {remedy}"
    if os.environ.get("CI") == "true":
        pytest.fail(text, pytrace=False)
    pytest.skip(text)


def find_chromium() -> str | None:
    """The browser: `RIGBOOK_CHROMIUM`, else `chromium` on the path."""
    return os.environ.get("RIGBOOK_CHROMIUM") or shutil.which("chromium") or shutil.which("chromium-browser")


def chromium() -> str:
    """The browser's path, or the end of the test."""
    found = find_chromium()
    if not found:
        missing("chromium", "install it with the system's packages or name it in RIGBOOK_CHROMIUM")
    return str(found)


def launch_flags() -> list[str]:
    """Flags that keep the browser quiet; its sandbox cannot be used by root."""
    return [*TMP_PROFILE_FLAGS, *(["--no-sandbox"] if os.geteuid() == 0 else [])]


def find_node_file(path: str) -> Path | None:
    """A file of an npm package: below `RIGBOOK_NODE_MODULES`, else below `.ci/node_modules`."""
    folders = (os.environ.get("RIGBOOK_NODE_MODULES"), str(ROOT / ".ci" / "node_modules"))
    return next((f for d in folders if d and (f := Path(d) / path).is_file()), None)


def node_file(path: str) -> Path:
    """The file, or the end of the test."""
    found = find_node_file(path)
    if not found:
        missing(path, "run `npm ci --prefix .ci`")
    assert found
    return found


def java() -> str:
    """The Java runtime's path, or the end of the test."""
    found = shutil.which("java")
    if not found:
        missing("java", "install a headless Java runtime with the system's packages")
    return str(found)
