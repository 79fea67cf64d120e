"""What comes out of the store as plain data: kinds, pieces, weights, and the piece for each run of cable."""

from __future__ import annotations

from typing import Any

from rigbook.compute.figure import Figure, Missing
from rigbook.compute.label_stock import label_stock
from rigbook.compute.plain import plain, row
from rigbook.compute.stock import Use, uses
from rigbook.compute.weights import pulled
from rigbook.plan.model import Plan


def pull(plan: Plan) -> dict[str, Any]:
    """Every kind that the plan takes, against what is owned."""
    every = uses(plan)
    total = sum(pulled(plan, u).kg for u in every)
    figure = Figure(total, "kg", "weights of all pieces, as kinds declare; cables by the metre, without their plugs")
    return {"weight": plain(figure), "kinds": [_use(plan, u) for u in every]}


def _use(plan: Plan, use: Use) -> dict[str, Any]:
    number, got = len(use.needs), pulled(plan, use)
    weight = Figure(got.kg, "kg", got.how) if not got.unknown else Missing("a piece has no weight, or no length")
    given = {id(g.need): g.pieces for g in use.given}
    return {
        "kind": use.kind,
        "number": number,
        "owned": use.owned.total if use.owned else None,
        "lacking": len(use.lacking),
        "weight": plain(weight),
        "left_m": plain(use.left),
        "runs": [
            {
                "what": n.what,
                "length_m": plain(n.length_m),
                "pieces_m": plain(given.get(id(n), ())),
                "over_m": plain(sum(given[id(n)]) - n.length_m) if given.get(id(n)) and n.length_m else None,
            }
            for n in use.needs
        ],
    }


def labels(plan: Plan) -> dict[str, Any]:
    """The sheets that labels are printed on."""
    stock = label_stock(plan)
    return {
        "sheet": stock.sheet.text,
        "sheet_mm": [plain(stock.sheet.width), plain(stock.sheet.height)],
        "size": stock.size.text,
        "size_mm": [plain(stock.size.width), plain(stock.size.height)],
        **row(stock, "columns", "rows", "per_sheet"),
    }
