"""The results of a plan as one file beside the pages, for whoever computes on with them (`build --data`).

It holds what the pages of the rig hold and no more: the public view has no such file. Findings are in it for the crew
alone, as the Checks page is. `compiler/docs/data.md` describes every key.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any, Final

from rigbook.compute.data import data
from rigbook.compute.plain import plain
from rigbook.handbook.drawings.blocks import sheet_of
from rigbook.handbook.drawings.layout import lay_out
from rigbook.handbook.views import CREW
from rigbook.walk.line_check import line_check
from rigbook.walk.signals import BANDS
from rigbook.walk.step import START_DB
from rigbook.walk.steps import steps

if TYPE_CHECKING:
    from rigbook.handbook.book import Book

NAME: Final = "data.json"


def data_file(book: Book) -> bytes:
    """The document of a book, the same bytes for the same plan."""
    text = json.dumps(document(book), ensure_ascii=False, allow_nan=False, indent=1)
    return text.encode("utf-8") + b"\n"


def document(book: Book) -> dict[str, Any]:
    """Everything that was worked out: figures, the walk test, and for the crew what the checks found."""
    found = {"findings": _findings(book)} if book.view == CREW else {}
    return {"view": book.view, **data(book.rig), "walk_test": _walk(book), "signal_flow": _flow(book), **found}


def _flow(book: Book) -> dict[str, Any]:
    """How large the drawing of the whole system is."""
    sheet = sheet_of(book.rig)
    columns = len(lay_out(sheet).columns) if sheet.blocks else 0
    return {
        "devices": len(sheet.blocks),
        "columns": columns,
        "connections": len(sheet.wires),
        "blocks": [{"device": key, "ins": len(b.ins), "outs": len(b.outs)} for key, b in sheet.blocks.items()],
    }


def _walk(book: Book) -> dict[str, Any]:
    made, lines = steps(book.rig), line_check(book.rig)
    return {
        "begin_db": plain(float(START_DB)),
        "signals": [{"key": key, "low_hz": low, "high_hz": high} for key, (low, high) in BANDS.items()],
        "steps": [
            {
                "number": number,
                "key": step.key,
                "title": step.title,
                "signal": step.signal,
                "controls": [{"name": c.words, "setting": c.setting} for c in step.controls],
                "hear": [{"box": e.end, "how": e.how, "stand": e.station.words} for e in step.expect],
                "silent": list(step.silent),
            }
            for number, step in enumerate(made, 1)
        ],
        "lines": [
            {
                "key": x.key,
                "desk": x.channel.desk,
                "channel": x.channel.number,
                "socket": x.socket,
                "source": x.source,
                "hear": list(x.heard),
            }
            for x in lines
        ],
    }


def _findings(book: Book) -> list[dict[str, Any]]:
    return [
        {"check": f.check, "severity": f.severity.word, "message": f.message, "accepted": ""}
        for f in book.compiled.findings
    ] + [
        {"check": f.check, "severity": f.severity.word, "message": f.message, "accepted": reason}
        for f, reason in book.compiled.accepted
    ]
