"""`rigbook explain`: the text of a check, from the check's own module; a kind of the gear library, from its file."""

from __future__ import annotations

import argparse
import textwrap
from collections.abc import Iterable
from pathlib import Path

from rigbook.commands.common import complain
from rigbook.text.tree import Listing, Mapping, Node, Scalar


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("name", nargs="?", help="name of a finding or of a kind of gear; or `gear`")
    parser.add_argument("kind", nargs="?", help="behind `gear`: a kind, such as amplifier-2x500, or a family")


def run(args: argparse.Namespace) -> int:
    """Print one explanation, the list of checks, the gear library, a family of it or a kind."""
    from rigbook.checks.catalogue import explain, names

    if args.name is None:
        for name in names():
            got = explain(name)
            print(f"{name:28} {got.severity.word:8} {got.title[0].lower() + got.title[1:]}")
        return 0
    if args.name == "gear":
        return _gear(args.kind)
    if args.kind is not None:
        complain(f"one name is explained at a time: `rigbook explain {args.name}`")
        return 2
    if args.name not in names():
        shipped = _shipped()  # only here: looking through the library takes longer than to explain a check
        if args.name in shipped:
            return _kind(args.name, shipped[args.name])
        if args.name in _families(shipped):
            return _gear(args.name)
        return _unknown("no check and no kind of gear", args.name, (*names(), *shipped))
    got = explain(args.name)
    print(f"{got.name} ({got.severity.word})\n{got.title}")
    for heading, text in got.parts:
        body = textwrap.dedent(text).strip("\n")
        print(f"\n{heading}\n{textwrap.indent(body, '  ')}")
    return 0


def _shipped() -> dict[str, Path]:
    from rigbook.plan.gear import Gear

    return Gear({}).shipped


def _families(shipped: dict[str, Path]) -> set[str]:
    return {path.parent.name for path in shipped.values()}


def _unknown(what: str, name: str, known: Iterable[str]) -> int:
    from rigbook.findings.suggest import near

    known = list(known)
    close = near(name, known) or [k for k in known if name and name.lower() in k][:3]
    hint = f", did you mean {' or '.join(f'`{c}`' for c in close)}?" if close else ""
    complain(f"there is {what} `{name}`{hint}")
    return 2


def _gear(name: str | None) -> int:
    shipped = _shipped()
    if name in shipped:
        return _kind(name, shipped[name])
    families = _families(shipped)
    family = None if name is None else "-".join(name.split())
    if name is not None and family not in families:
        return _unknown("no kind and no family of gear", name, (*shipped, *sorted(families)))
    for kind, path in shipped.items():
        if family in (None, path.parent.name):
            title = (_said(_facts(kind, path).get("title")) or "").replace(", generic", "", 1)
            print(f"{path.parent.name:19} {kind:28} {title}")
    return 0


def _kind(name: str, path: Path) -> int:
    """What the library says of a kind, each figure as typed, with its unit."""
    keys = _facts(name, path)
    family, title, text = (_said(keys.pop(key, None)) for key in ("is", "title", "text"))
    print(f"{name} ({family})\n{title}")
    if text:
        print("\n" + textwrap.fill(" ".join(text.split()), 100))
    ports = _below(keys.pop("ports", None))
    if ports:
        print("\nPorts")
        _rows(
            (port, ", ".join(_port(key, value) for key, value in _below(node).items())) for port, node in ports.items()
        )
    if keys:
        print("\nFigures")
        _rows((key, _said(value)) for key, value in keys.items())
    return 0


def _facts(name: str, path: Path) -> dict[str, Node]:
    """The keys that a file of the library says of a kind."""
    from rigbook.text.yaml_reader import read, read_bytes

    root, _ = read(read_bytes(path.name, path.read_bytes())[0])
    return dict(_below(_below(_below(root).get("kinds")).get(name)))


def _below(node: Node | None) -> dict[str, Node]:
    return node.items if isinstance(node, Mapping) else {}


def _port(key: str, value: Node) -> str:
    """Connector, level and direction are words that speak for themselves; other keys are named."""
    said = _said(value)
    return said if key in ("connector", "level", "direction") else key if said == "yes" else f"{key} {said}"


def _said(node: Node | None) -> str:
    """A value in one line."""
    match node:
        case Scalar():
            return node.text
        case Listing():
            return ", ".join(map(_said, node.items))
        case Mapping():
            return "; ".join(f"{key}: {_said(value)}" for key, value in node.items.items())
        case _:
            return ""


def _rows(rows: Iterable[tuple[str, str]]) -> None:
    """Two columns; what is long goes on below itself."""
    told = list(rows)
    width = max(len(name) for name, _ in told) + 2
    for name, said in told:
        print(textwrap.fill(said, 100, initial_indent=f"  {name:{width}}", subsequent_indent=" " * (width + 2)))
