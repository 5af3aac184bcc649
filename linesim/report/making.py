"""From a results folder to what is handed on: made from what is stored there, and put beside it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any

import yaml

from linesim.engine.contract.ledger import HOUR_US
from linesim.engine.contract.trace import Trace
from linesim.line import Line, LineError, load_line
from linesim.line.calendar import first_planned_us
from linesim.report.acceptance_page import acceptance_book, acceptance_page
from linesim.report.books import comparison_book, run_book
from linesim.report.compare_page import compare_page
from linesim.report.page import write_page
from linesim.report.parts import Part, Words
from linesim.report.replay import HOURS, is_of, replay_of
from linesim.report.run_page import run_page
from linesim.report.sensitivity_page import sensitivity_book, sensitivity_page
from linesim.report.sweep_page import sweep_book, sweep_page
from linesim.report.workbook import write_workbook
from linesim.results import Acceptance, Comparison, Results, Sensitivity, Sweep, open_results
from linesim.results.acceptance import file_of
from linesim.results.comparison_store import folders_of_lines
from linesim.results.opening import mark_of

PAGE, BOOK, LINE = "report.html", "report.xlsx", "line.yaml"
OTHER_NUMBERS = (
    "No replay: run again, the stored line gives other numbers than the stored ones. The line file or the program has "
    "changed since."
)
FIRST_WORK = "It begins with the first planned working time after the warm-up."

TracedAgain = Callable[[Results, Line, int, float], Trace]  # results, line, replication, up to a time [h] -> its trace


@dataclass(frozen=True)
class Window:
    """What the replay shows: a replication (None: the first there is), from and to a time since its start [h].

    from_h None: the first planned working time after the warm-up; to_h None: HOURS later. It is cut where the run ends.
    """

    replication: int | None = None
    from_h: float | None = None
    to_h: float | None = None


def write_reports(
    folder: str | Path, traced_again: TracedAgain | None = None, window: Window | None = None
) -> list[Path]:
    """Make page and workbook of a folder of results; earlier ones are replaced. Returns the files.

    traced_again: runs a stretch of the stored run for the replay; without it the page has none. Raises
    FileNotFoundError if no finished results are there, ValueError if a later version wrote them or the window can't be.
    """
    folder = Path(folder)
    results = open_results(folder)
    if isinstance(results, Acceptance):
        names = results.about["lines"]
        contents = {name: content_in(folder, file_of(number)) for number, name in enumerate(names, 1)}
        page, book = acceptance_page(results, contents), acceptance_book(results, contents)
    elif isinstance(results, Sweep):
        page, book = sweep_page(results), sweep_book(results)
    elif isinstance(results, Sensitivity):
        page, book = sensitivity_page(results), sensitivity_book(results)
    elif isinstance(results, Comparison):
        inside = folders_of_lines(folder)
        known = {name: line_in(where) for name, where in inside.items()}
        contents = {name: content_in(where) for name, where in inside.items()}
        page, book = compare_page(results, known, contents), comparison_book(results, known, contents)
    else:
        line = line_in(folder)
        replay = _replay(results, line, traced_again, window or Window()) if line and traced_again else None
        page, book = run_page(results, line, replay), run_book(results, line)
    made = datetime.fromtimestamp(mark_of(folder).stat().st_mtime)
    return [write_page(page, folder / PAGE), write_workbook(book, page.title, made, folder / BOOK)]


def _replay(results: Results, line: Line, traced_again: TracedAgain, window: Window) -> Part:
    about = results.about
    numbers, end_h = about["replications"], about["warmup_hours"] + about["hours"]
    number = numbers[0] if window.replication is None else window.replication
    from_h, warm_us = window.from_h, round(about["warmup_hours"] * HOUR_US)
    if from_h is None:
        last_h = end_h if window.to_h is None else window.to_h
        from_h = first_planned_us(line, warm_us, round(last_h * HOUR_US)) / HOUR_US
    to_h = min(from_h + HOURS if window.to_h is None else window.to_h, end_h)
    if number not in numbers:
        raise ValueError(f"replication = {number}: these results hold {numbers[0]} to {numbers[-1]}")
    if not 0 <= from_h < to_h:
        raise ValueError(f"from_h = {from_h:g}: must be 0 or more, and before to_h and the end of the run, {to_h:g} h")
    trace = traced_again(results, line, number, to_h)
    if not is_of(trace, line, results, number):
        return Words([OTHER_NUMBERS])
    from_us = round(from_h * HOUR_US)
    replay = replay_of(trace, line, number, from_us, round(to_h * HOUR_US))
    if window.from_h is None and from_us > warm_us:
        return replace(replay, about=f"{replay.about} {FIRST_WORK}")
    return replay


def line_in(folder: Path) -> Line | None:
    """The line as it was run; None if the folder does not hold it, or in a form that is not read any more."""
    try:
        return load_line(folder / LINE) if (folder / LINE).is_file() else None
    except LineError:
        return None


def content_in(folder: Path, name: str = LINE) -> dict[str, Any] | None:
    """The file of the line as a plain map; None if the folder does not hold it."""
    file = folder / name
    if not file.is_file():
        return None
    content = yaml.safe_load(file.read_text(encoding="utf-8"))
    return content if isinstance(content, dict) else None
