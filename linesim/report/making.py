"""From a results folder to what is handed on: made from what is stored there, and put beside it."""

from __future__ import annotations

from pathlib import Path

from linesim.line import Line, LineError, load_line
from linesim.report.page import write_page
from linesim.report.run_page import run_page
from linesim.results import Comparison, open_results

PAGE, LINE = "report.html", "line.yaml"


def write_reports(folder: str | Path) -> list[Path]:
    """Make the page of a folder of results; an earlier one is replaced. Returns the files.

    Raises FileNotFoundError if no finished results are there, ValueError if a later version wrote them.
    """
    folder = Path(folder)
    results = open_results(folder)
    if isinstance(results, Comparison):
        raise ValueError(f"{folder}: a comparison has no page yet; those of its lines are in {folder / 'lines'}")
    return [write_page(run_page(results, line_in(folder)), folder / PAGE)]


def line_in(folder: Path) -> Line | None:
    """The line as it was run; None if the folder does not hold it, or in a form that is not read any more."""
    try:
        return load_line(folder / LINE) if (folder / LINE).is_file() else None
    except LineError:
        return None
