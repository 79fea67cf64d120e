"""`rigbook schema`: the JSON Schema of the plan language."""

from __future__ import annotations

import argparse


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("--reference", action="store_true", help="print the language reference (Markdown) instead")


def run(args: argparse.Namespace) -> int:
    """Print the schema, or the reference made from the same table of keys."""
    if args.reference:
        from rigbook.language.reference import reference

        print(reference(), end="")
        return 0
    import json

    from rigbook.language.schema import schema

    print(json.dumps(schema(), indent=2, ensure_ascii=False))
    return 0
