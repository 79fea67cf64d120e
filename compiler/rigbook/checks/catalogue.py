"""The catalogue of checks, read from their modules: slug, group, severity, explanation.

A check module holds, in this order: the docstring under fixed headings (*What it finds*, *Why it matters on stage*,
*Put it right*, *Fails*, *Passes*, *Source*); `SEVERITY`; where needed `YIELDS_TO`; `find(rig)`. A module without
`find` explains a finding that an earlier stage makes.
"""

from __future__ import annotations

import importlib
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING

from rigbook.findings.finding import Severity
from rigbook.records import frozen

if TYPE_CHECKING:
    import ast

HOME = Path(__file__).parent
GROUPS = ("language", "routing", "ports", "loudspeakers", "places", "power", "publishing", "themes")
HEADINGS = ("What it finds", "Why it matters on stage", "Put it right", "Fails", "Passes", "Source")


@frozen
class Explanation:
    """What a check says of itself."""

    name: str
    group: str
    severity: Severity
    title: str
    """The first line of the docstring."""
    parts: tuple[tuple[str, str], ...]
    """Heading and text, in order."""

    def part(self, heading: str) -> str:
        """The text under a heading; empty where there is none."""
        return dict(self.parts).get(heading, "")


@cache
def names() -> dict[str, str]:
    """Every check's slug with its group, in order of group and alphabet. Imports nothing."""
    return {
        file.removesuffix(".py").replace("_", "-"): group
        for group in GROUPS
        for file in sorted(path.name for path in (HOME / group).iterdir())
        if file.endswith(".py") and file[0].islower()
    }


def explain(name: str) -> Explanation:
    """The explanation of one check, read from its source without importing it. KeyError for an unknown name."""
    import ast

    group = names()[name]
    tree = ast.parse((HOME / group / f"{name.replace('-', '_')}.py").read_text(encoding="utf-8"))
    # as it stands: cleaning would turn the tab of an example into spaces
    doc = ast.get_docstring(tree, clean=False) or name
    title, _, rest = doc.partition("\n")
    return Explanation(name, group, _severity(tree), title.rstrip("."), _parts(rest))


def _severity(tree: ast.Module) -> Severity:
    import ast

    for node in tree.body:
        match node:
            case ast.Assign(targets=[ast.Name(id="SEVERITY")], value=ast.Attribute(attr=name)):
                return Severity[name]
    return Severity.ERROR


def _parts(text: str) -> tuple[tuple[str, str], ...]:
    out: list[tuple[str, list[str]]] = []
    for line in text.splitlines():
        bare = line.strip().strip("*")
        if bare in HEADINGS:
            out.append((bare, []))
        elif out:
            out[-1][1].append(line)
    return tuple((heading, "\n".join(lines).strip("\n")) for heading, lines in out)


def modules() -> list[ModuleType]:
    """Every check that runs on a rig, in order."""
    loaded = (importlib.import_module(f"rigbook.checks.{g}.{n.replace('-', '_')}") for n, g in names().items())
    return [m for m in loaded if hasattr(m, "find")]
