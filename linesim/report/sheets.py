"""Tables for people: what page and workbook show, each cell with its number, and how it is written out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple, TypeGuard

from linesim.results.intervals import Estimate, within
from linesim.results.labels import decimals, figure, percent, signed

Cell = str | int | float | Estimate | None
TEXT, FIGURE, PERCENT, COUNT, CHANGE = "text", "figure", "percent", "count", "change"
LEAST_TOLD = 0.005  # what is less may read as nothing beside larger numbers


class Column(NamedTuple):
    """Heading of a column, the unit of its numbers, and how they are written: a text, figure, percent,
    count, or the change of a figure, which may be below nothing. unlike: each row holds another quantity."""

    head: str
    unit: str = ""
    form: str = FIGURE
    unlike: bool = False


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

    @property
    def places(self) -> list[int | None]:
        """How many decimals the numbers of each column have; None where each row has its own."""
        columns = zip(self.columns, zip(*self.rows, strict=True), strict=True) if self.rows else ()
        return [None if column.unlike else places_of(cells, column.form) for column, cells in columns]

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


def places_of(cells: Sequence[Cell], form: str) -> int:
    """How many decimals these cells have, intervals too: those that fit the largest.

    Counts have no more than they need, and means of counts that vary one less than other figures. What is not nothing
    does not read as nothing, as far as two decimals tell.
    """
    known = [cell for cell in cells if not is_empty(cell) and not isinstance(cell, str)]
    if form == COUNT and not any(map(_varies, known)):
        exact = [_number(cell) for cell in known]
        fit = decimals(exact)
        return next((few for few in range(fit) if all(abs(round(one, few) - one) < 1e-9 for one in exact)), fit)
    cut = [ends_cut(cell, form) if _varies(cell) else [_number(cell)] for cell in known]
    places = max(decimals([number for each in cut for number in each[:3]]) - (form == COUNT), 0)
    told = [mean for mean in map(_number, known) if abs(mean) > LEAST_TOLD]
    return next((more for more in range(places, 2) if all(round(mean, more) for mean in told)), max(places, 2))


def value(cell: Cell, form: str, places: int | None = None) -> str:
    """A cell in words, without its interval; places: decimals, None for those that fit this cell."""
    if is_empty(cell):
        return "-" if form != TEXT else ""
    if isinstance(cell, str):
        return cell
    if form == PERCENT:
        return percent(_number(cell))
    places = places_of([cell], form) if places is None else places
    return signed(_number(cell), places) if form == CHANGE else figure(_number(cell), places)


def interval(cell: Cell, form: str, places: int | None = None) -> str:
    """The 95 % interval of an estimate in words, "" for anything else; it ends where the quantity does."""
    if not _varies(cell):
        return ""
    places = places_of([cell], form) if places is None else places
    shown = ends_cut(cell, form)
    low, high = value(shown.low, form, places), value(shown.high, form, places)
    return f"{low.removesuffix(' %')} to {high}"


def _number(cell: Cell) -> float:
    return cell.mean if isinstance(cell, Estimate) else float(cell or 0)


def _varies(cell: Cell) -> TypeGuard[Estimate]:
    """Whether it has an interval that is told."""
    return isinstance(cell, Estimate) and cell.replications > 1 and cell.low != cell.high and not math.isnan(cell.low)


def ends_cut(cell: Estimate, form: str) -> Estimate:
    """The interval cut where what is told in this form ends; a change ends nowhere."""
    return cell if form == CHANGE else within(cell, 1.0) if form == PERCENT else within(cell)


def sort_key(cell: Cell) -> str:
    """What a script sorts rows by: a number as a program reads it, or the text."""
    if is_empty(cell):
        return ""
    return cell if isinstance(cell, str) else repr(float(cell.mean if isinstance(cell, Estimate) else cell or 0))
