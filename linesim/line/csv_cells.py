"""Tables that people hand over as CSV, as any program of theirs writes them."""

from __future__ import annotations

import csv
from pathlib import Path


def read_cells(file: Path) -> list[list[str]]:
    """The rows of a CSV file that hold anything, the header first; each cell without blanks around it.

    With `;` between the columns a comma is a decimal point. Raises OSError, UnicodeDecodeError or csv.Error for a file
    that can't be read.
    """
    text = file.read_text(encoding="utf-8-sig")
    semicolons = ";" in text.partition("\n")[0]
    rows = csv.reader(text.splitlines(), delimiter=";" if semicolons else ",")
    return [[_decimal(cell.strip()) if semicolons else cell.strip() for cell in row] for row in rows if any(row)]


def _decimal(cell: str) -> str:
    """1,5 s as 1.5 s; a comma with no digit behind it stays, as in a list."""
    head, comma, tail = cell.partition(",")
    return f"{head}.{tail}" if comma and head[-1:].isdigit() and tail[:1].isdigit() else cell
