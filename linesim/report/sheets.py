"""Tables for people: what page and workbook show, each cell with its number, and how it is written out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from linesim.results.intervals import Estimate, within
from linesim.results.labels import figure, percent, signed

Cell = str | int | float | Estimate | None
TEXT, FIGURE, PERCENT, COUNT, CHANGE = "text", "figure", "percent", "count", "change"


class Column(NamedTuple):
    """Heading of a column, the unit of its numbers, and how they are written: a text, figure, percent,
    count, or the change of a figure, which may be below nothing."""

    head: str
    unit: str = ""
    form: str = FIGURE


@dataclass(frozen=True)
class Sheet:
    """A table with a title. Shares are held as they are, 0 to 1, whatever their form; note: a sentence below.

    filterable: on a page the reader can filter and sort its rows.
    """

    title: str
    columns: Sequence[Column]
    rows: Sequence[Sequence[Cell]]
    note: str = ""
    filterable: bool = False

    @property
    def kind(self) -> str:
        return "sheet"

    def without_empty(self) -> Sheet:
        """The same without columns in which nothing stands."""
        kept = [at for at in range(len(self.columns)) if any(not is_empty(row[at]) for row in self.rows)]
        columns = [self.columns[at] for at in kept]
        return Sheet(self.title, columns, [[row[at] for at in kept] for row in self.rows], self.note, self.filterable)


def is_empty(cell: Cell) -> bool:
    """Nothing stands there: no text, or a number that is not defined."""
    if isinstance(cell, Estimate):
        return cell.replications == 0
    return cell is None or cell == "" or (isinstance(cell, float) and math.isnan(cell))


def value(cell: Cell, form: str) -> str:
    """A cell in words, without its interval."""
    if is_empty(cell):
        return "-" if form != TEXT else ""
    if isinstance(cell, str):
        return cell
    number = cell.mean if isinstance(cell, Estimate) else float(cell or 0)
    if form == PERCENT:
        return percent(number)
    varies = isinstance(cell, Estimate) and cell.replications > 1 and cell.low != cell.high
    if form == COUNT and number == round(number) and not varies:
        return f"{number:,.0f}"
    return signed(number) if form == CHANGE else figure(number)


def interval(cell: Cell, form: str) -> str:
    """The 95 % interval of an estimate in words, "" for anything else; it ends where the quantity does."""
    if not isinstance(cell, Estimate) or cell.replications < 2 or math.isnan(cell.low) or cell.high == cell.low:
        return ""
    shown = ends_cut(cell, form)
    low, high = value(shown.low, form), value(shown.high, form)
    return f"{low.removesuffix(' %')} to {high}"


def ends_cut(cell: Estimate, form: str) -> Estimate:
    """The interval cut where what is told in this form ends; a change ends nowhere."""
    return cell if form == CHANGE else within(cell, 1.0) if form == PERCENT else within(cell)


def sort_key(cell: Cell) -> str:
    """What a script sorts rows by: a number as a program reads it, or the text."""
    if is_empty(cell):
        return ""
    return cell if isinstance(cell, str) else repr(float(cell.mean if isinstance(cell, Estimate) else cell or 0))
