"""Labels that do not fit on their sheet.

*What it finds*
Label stock whose labels, with the gaps and the margin that the plan gives, do not all stand on the sheet.

*Why it matters on stage*
The last column prints on nothing, and half of the cables go out without a label.

*Put it right*
Measure the sheet and say what is there: `size`, `columns`, `rows`, `gap`, `margin`.

*Fails*
    plan: 1
    show: Fails
    labels: {size: 70 x 37 mm, columns: 4}

*Passes*
    plan: 1
    show: Passes
    labels: {size: 70 x 37 mm, columns: 3}

*Source*
Arithmetic.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rigbook.compute.label_stock import label_stock
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.rig import Rig
from rigbook.language.record import Record
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

SEVERITY = Severity.WARNING
BESIDE: Final = phrase("%(number)s labels side by side take %(edge)s mm, the sheet has %(side)s mm")
BELOW: Final = phrase("%(number)s labels one below the other take %(edge)s mm, the sheet has %(side)s mm")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for the stock."""
    record = rig.plan.sections.get("labels")
    stock = label_stock(rig.plan)
    if not isinstance(record, Record) or stock.fits:
        return
    wide, high = (stock.right_edge, stock.sheet.width), (stock.lower_edge, stock.sheet.height)
    if wide[0] - wide[1] > high[0] - high[1]:
        number, way, (edge, side), key = stock.columns, BESIDE, wide, "columns"
    else:
        number, way, (edge, side), key = stock.rows, BELOW, high, "rows"
    key = next((k for k in (key, "size", "gap", "margin", "sheet") if record.get(k)), "size")
    yield Finding(
        "labels-off-sheet",
        SEVERITY,
        phrase(
            way,
            number=number,
            edge=Amount(f"{edge:g}"),
            side=Amount(f"{side:g}"),
        ),
        Label(record.at(key)),
        effect=phrase("the last of them print on nothing"),
        remedy=phrase("measure the sheet, and write `size`, `columns`, `rows`, `gap` and `margin` as they are"),
    )
