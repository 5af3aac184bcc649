"""Tables as a workbook: numbers as numbers with their units beside them, charts that the reader can change.

Decimal and thousands separators are those of the reader's own program, since cells hold numbers and not words.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

import xlsxwriter

from linesim.report.sheets import CHANGE, COUNT, PERCENT, TEXT, Cell, Column, Sheet, ends_cut, is_empty
from linesim.results.colours import Look
from linesim.results.files import write
from linesim.results.intervals import Estimate

FORMATS = {PERCENT: "0.0%", COUNT: "#,##0", CHANGE: "+0.000;-0.000;0"}
PLAIN_NUMBER = "0.000"
HEAD_HEIGHT = 46  # three lines of a heading [pt]
MOST_LETTERS = 31  # of a sheet's name, as the format has it
NOT_IN_NAMES = r"[]:*?/\'"
HATCHES = {
    "//": "wide_upward_diagonal",
    "\\\\": "wide_downward_diagonal",
    "..": "dotted_grid",
    "xx": "trellis",
    "++": "small_grid",
    "--": "narrow_horizontal",
    "||": "narrow_vertical",
    "oo": "sphere",
}


@dataclass(frozen=True)
class Series:
    """A column of a table in a chart: its number in the Sheet, and its look; None for one that is not seen."""

    column: int
    look: Look | None


@dataclass(frozen=True)
class Chart:
    """A chart of a table: bars to the right, stacked in the order of its series; across: what its axis shows."""

    title: str
    series: Sequence[Series]
    across: str


@dataclass(frozen=True)
class Leaf:
    """One sheet of the workbook: tables one below the other, words below them, a chart of the first table."""

    name: str
    sheets: Sequence[Sheet]
    words: Sequence[str] = ()
    chart: Chart | None = None


def write_workbook(leaves: Sequence[Leaf], title: str, made: datetime, file: Path) -> Path:
    """made: when the results were; with the same results the same file comes out."""
    write(file, partial(_put, leaves, title, made))
    return file


def _put(leaves: Sequence[Leaf], title: str, made: datetime, file: Path) -> None:
    options = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    with xlsxwriter.Workbook(str(file), options) as book:
        book.set_properties({"title": title, "created": made, "comments": "Estimates of a model for the inputs given."})
        looks = _Looks(book)
        taken: set[str] = set()
        for leaf in leaves:
            _leaf(book, looks, leaf, _free_name(leaf.name, taken))


class _Looks:
    """Formats of cells, each made once."""

    def __init__(self, book: Any) -> None:
        self.title = book.add_format({"bold": True, "font_size": 13})
        self.head = book.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1})
        self.words = book.add_format({"text_wrap": True, "valign": "top"})
        self.text = book.add_format({"valign": "top"})
        self.numbers = {form: book.add_format({"num_format": code}) for form, code in FORMATS.items()}
        self.number = book.add_format({"num_format": PLAIN_NUMBER})


def _leaf(book: Any, looks: _Looks, leaf: Leaf, name: str) -> None:
    page = book.add_worksheet(name)
    page.set_landscape()
    page.set_paper(9)  # A4
    page.fit_to_pages(1, 0)
    row, widths, chart = 0, dict[int, int](), None
    for number, sheet in enumerate(leaf.sheets):
        first = row + 2
        columns = _columns(sheet)
        page.write_string(row, 0, sheet.title, looks.title)
        for at, (head, unit, _, _) in enumerate(columns):
            page.write_string(row + 1, at, f"{head} [{unit}]" if unit else head, looks.head)
        for line, cells in enumerate(sheet.rows):
            for at, (head, _, column, part) in enumerate(columns):
                shown = _cell(page, looks, first + line, at, cells[column], sheet.columns[column].form, part)
                widths[at] = min(60, max(widths.get(at, 0), len(shown) + 2, len(head) // 2 + 4))
        page.set_row(row + 1, HEAD_HEIGHT)
        if leaf.chart and number == 0:
            chart = _chart(book, name, leaf.chart, columns, first, len(sheet.rows))
        row = first + len(sheet.rows) + 1
        if sheet.note:
            page.write_string(row - 1, 0, sheet.note, looks.text)
            row += 1
    for words in leaf.words:
        page.write_string(row, 0, words, looks.text)
        row += 1
    if chart is not None:
        page.insert_chart(row + 1, 0, chart)
    for at, width in widths.items():
        page.set_column(at, at, width)
    if len(leaf.sheets) == 1:
        page.freeze_panes(2, 1)
        page.autofilter(1, 0, max(1, 1 + len(leaf.sheets[0].rows)), len(_columns(leaf.sheets[0])) - 1)


def _columns(sheet: Sheet) -> list[tuple[str, str, int, str]]:
    """Heading, unit, column of the table, part of the cell: an estimate takes three columns, its interval in two."""
    shown = []
    for number, column in enumerate(sheet.columns):
        unit = "%" if column.form == PERCENT else column.unit
        shown.append((column.head, unit, number, "mean"))
        if any(isinstance(row[number], Estimate) and row[number].replications > 1 for row in sheet.rows):  # type: ignore[union-attr]
            shown += [(f"{column.head}, {end}", unit, number, end) for end in ("low", "high")]
    return shown


def _cell(page: Any, looks: _Looks, row: int, at: int, cell: Cell, form: str, part: str) -> str:
    """Writes a cell; returns what will be seen, about."""
    if is_empty(cell):
        return ""
    if isinstance(cell, str):
        page.write_string(row, at, cell, looks.text)
        return cell
    shown = ends_cut(cell, form) if isinstance(cell, Estimate) else cell
    number = getattr(shown, part) if isinstance(shown, Estimate) else shown if part == "mean" else None
    if number is None or math.isnan(number):
        return ""
    whole = form != COUNT or number == round(number)
    page.write_number(row, at, number, looks.numbers.get(form, looks.number) if whole else looks.number)
    return f"{number:,.3f}"


def _chart(book: Any, name: str, chart: Chart, columns: list[tuple[str, str, int, str]], first: int, rows: int) -> Any:
    """first: row of the first number; rows: how many."""
    made = book.add_chart({"type": "bar", "subtype": "stacked"})
    last = first + rows - 1
    for series in chart.series:
        at = next(at for at, (_, _, column, part) in enumerate(columns) if (column, part) == (series.column, "mean"))
        made.add_series(
            {
                "name": [name, first - 1, at],
                "categories": [name, first, 0, last, 0],
                "values": [name, first, at, last, at],
                "gap": 40,
                **_fill(series.look),
            }
        )
    made.set_title({"name": chart.title, "overlay": False})
    made.set_x_axis({"name": chart.across, "major_gridlines": {"visible": True, "line": {"color": "#DDDDDD"}}})
    made.set_y_axis({"reverse": True})
    seen = [number for number, series in enumerate(chart.series) if series.look is None]
    made.set_legend({"none": True} if len(chart.series) < 3 else {"position": "bottom", "delete_series": seen})
    made.set_size({"width": 760, "height": 120 + 30 * max(rows, 4)})
    return made


def _fill(look: Look | None) -> dict[str, Any]:
    if look is None:
        return {"fill": {"none": True}, "border": {"none": True}}
    if look.hatch in HATCHES:
        pattern = {"pattern": HATCHES[look.hatch], "fg_color": "#333333", "bg_color": look.colour}
        return {"pattern": pattern, "border": {"color": "#333333", "width": 0.5}}
    return {"fill": {"color": look.colour}, "border": {"color": "#333333", "width": 0.5}}


def _free_name(name: str, taken: set[str]) -> str:
    """A name as the format allows it: without some signs, short, and once only whatever its capitals."""
    plain = "".join(letter for letter in name if letter not in NOT_IN_NAMES)[:MOST_LETTERS].strip() or "table"
    free, number = plain, 2
    while free.lower() in taken:
        free, number = f"{plain[: MOST_LETTERS - 4]} {number}", number + 1
    taken.add(free.lower())
    return free


def raw(title: str, table: Any, units: dict[str, str]) -> Sheet:
    """A stored table as it is; texts stay texts, all else numbers."""
    columns = []
    for name in table.columns:
        numbers = table[name].dtype.kind in "iufb"
        columns.append(Column(str(name), units.get(str(name), ""), "figure" if numbers else TEXT))
    rows = [[_plain(value) for value in row] for row in table.itertuples(index=False)]
    return Sheet(title, columns, rows)


def _plain(value: Any) -> Cell:
    return value if isinstance(value, str | int | float) else float(value) if value is not None else None
