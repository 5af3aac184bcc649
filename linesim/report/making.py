"""From a results folder to what is handed on: made from what is stored there, and put beside it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import yaml

from linesim.line import Line, LineError, load_line
from linesim.report.compare_page import compare_page
from linesim.report.page import write_page
from linesim.report.run_page import run_page
from linesim.results import Comparison, open_results
from linesim.results.comparison_store import folders_of_lines

PAGE, LINE = "report.html", "line.yaml"


def write_reports(folder: str | Path) -> list[Path]:
    """Make the page of a folder of results; an earlier one is replaced. Returns the files.

    Raises FileNotFoundError if no finished results are there, ValueError if a later version wrote them.
    """
    folder = Path(folder)
    results = open_results(folder)
    if isinstance(results, Comparison):
        inside = folders_of_lines(folder)
        known = {name: line_in(where) for name, where in inside.items()}
        contents = {name: content_in(where) for name, where in inside.items()}
        page = compare_page(results, known, contents)
    else:
        page = run_page(results, line_in(folder))
    return [write_page(page, folder / PAGE)]


def line_in(folder: Path) -> Line | None:
    """The line as it was run; None if the folder does not hold it, or in a form that is not read any more."""
    try:
        return load_line(folder / LINE) if (folder / LINE).is_file() else None
    except LineError:
        return None


def content_in(folder: Path) -> dict[str, Any] | None:
    """The file of the line as a plain map; None if the folder does not hold it."""
    file = folder / LINE
    if not file.is_file():
        return None
    content = yaml.safe_load(file.read_text(encoding="utf-8"))
    return content if isinstance(content, dict) else None
