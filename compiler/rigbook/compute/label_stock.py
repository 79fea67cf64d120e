"""The sheets that labels are printed on, in millimetres: where each label stands, and whether they fit."""

from __future__ import annotations

from typing import Final

from rigbook.language.record import Record
from rigbook.language.values.formats import Format
from rigbook.plan.model import Plan, Unit
from rigbook.records import frozen
from rigbook.units.quantity import Quantity

SHEET: Final = Format(210.0, 297.0, "A4")
SIZE: Final = Format(70.0, 37.0, "70 x 37 mm")
NONE: Final = Format(0.0, 0.0, "")
STRIP_MM: Final = 10.0
PITCH_MM: Final = 26.0
"""Width of the flange of a common XLR panel socket (common practice)."""
LOWEST_MM: Final = 3.0
"""Least height of a strip that holds a number."""
MOST_SKIPPED: Final = 500
SLACK_MM: Final = 0.5
"""How far labels may stand over a sheet: sizes are rounded."""


@frozen
class LabelStock:
    """A sheet of labels. All lengths in mm; `left` and `top` lead to the first label."""

    sheet: Format
    size: Format
    columns: int
    rows: int
    gap: Format
    left: float
    top: float
    skip: int
    codes: bool
    strip: float

    @property
    def per_sheet(self) -> int:
        """Labels of a sheet."""
        return self.columns * self.rows

    @property
    def right_edge(self) -> float:
        """Right edge of the last column, mm from the left edge of the sheet."""
        return self.left + self.columns * self.size.width + (self.columns - 1) * self.gap.width

    @property
    def lower_edge(self) -> float:
        """Lower edge of the last row, mm from the upper edge of the sheet."""
        return self.top + self.rows * self.size.height + (self.rows - 1) * self.gap.height

    @property
    def fits(self) -> bool:
        """True where every label stands on the sheet."""
        over = (self.right_edge - self.sheet.width, self.lower_edge - self.sheet.height)
        return max(over) <= SLACK_MM and self.size.width > 0 and self.size.height > 0


def label_stock(plan: Plan) -> LabelStock:
    """The stock that the plan says, else A4 sheets of 24 labels."""
    got = plan.sections.get("labels")
    record = got if isinstance(got, Record) else Record("labels", plan.record.span, {}, {})
    sheet, size = record.get("sheet", SHEET), record.get("size", SIZE)
    gap, margin = record.get("gap", NONE), record.get("margin")
    columns = record.get("columns") or _fit(sheet.width, margin.width if margin else 0.0, size.width, gap.width)
    rows = record.get("rows") or _fit(sheet.height, margin.height if margin else 0.0, size.height, gap.height)
    wide = columns * size.width + (columns - 1) * gap.width
    high = rows * size.height + (rows - 1) * gap.height
    left = margin.width if margin else max((sheet.width - wide) / 2, 0.0)
    top = margin.height if margin else max((sheet.height - high) / 2, 0.0)
    strip = record.get("strip")
    high_strip = max(strip.value * 1000, LOWEST_MM) if isinstance(strip, Quantity) else STRIP_MM
    skip = min(int(record.get("skip", 0)) % (columns * rows), MOST_SKIPPED)
    return LabelStock(sheet, size, columns, rows, gap, left, top, skip, bool(record.get("codes", True)), high_strip)


def _fit(sheet: float, margin: float, label: float, gap: float) -> int:
    """Labels that fit into one direction of a sheet; 1 where none does."""
    room = sheet - margin + SLACK_MM
    return max(int((room + gap) / (label + gap)) if label + gap > 0 else 1, 1)


def pitch(plan: Plan, unit: Unit) -> float:
    """From one socket of a unit to the next, in mm: as the plan says of the unit, of its kind, or of all."""
    got = plan.sections.get("labels")
    record = got if isinstance(got, Record) else None
    if record is None:
        return PITCH_MM
    own = {e.name: e.value for e in record.get("pitches", ()) if isinstance(e.value, Quantity)}
    found = own.get(unit.name) or own.get(unit.kind.name if unit.kind else "") or record.get("pitch")
    return found.value * 1000 if isinstance(found, Quantity) else PITCH_MM
