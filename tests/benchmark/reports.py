"""Page and workbook of stored results: how long they take to make, how large the page is, when it obeys in a browser.

Without a browser the last of these is left out.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import linesim
from linesim.report.making import PAGE, write_reports
from linesim.study.again import traced_again
from tests.benchmark.sweeps import FACTORS
from tests.benchmark.timing import Figure, figure
from tests.browser.window import interactive_s, opened

if TYPE_CHECKING:
    from selenium.webdriver import Chrome

TURNS, SEED = 3, 1
HOURS, REPLICATIONS = 500.0, 10
Make = Callable[[Path], object]


def figures() -> list[Figure]:
    told = []
    window = opened()
    try:
        with tempfile.TemporaryDirectory() as above:
            for number, (what, make) in enumerate(_kinds().items()):
                folder = Path(above) / str(number)
                make(folder)
                processor_s, clock_s = zip(*(_made_s(folder) for _ in range(TURNS)), strict=True)
                told.append(figure(f"{what}: page and workbook made, processor time", processor_s, "s"))
                told.append(figure(f"{what}: by the clock", clock_s, "s", "< 10"))
                told.append(figure(f"{what}: size of the page", [(folder / PAGE).stat().st_size / 1e6], "MB", "< 3"))
                if window is not None:
                    waits = list(_waits_s(window, folder / PAGE))
                    told.append(figure(f"{what}: interactive", waits, "s", "< 2"))
    finally:
        if window is not None:
            window.quit()
    return told


def _kinds() -> dict[str, Make]:
    return {
        "a run of the ring cell, 10 x 500 h": lambda folder: _run("ring_cell", folder),
        "a run of the divided line, 10 x 500 h": lambda folder: _run("ring_divided", folder),
        "three lines side by side, 10 x 500 h": _comparison,
        "a sweep of 1,000 points": _sweep,
    }


def _run(name: str, folder: Path) -> None:
    text = (Path(linesim.__file__).parents[1] / "conf" / "line" / f"{name}.yaml").read_text(encoding="utf-8")
    results = linesim.simulate(linesim.load_line(name), hours=HOURS, replications=REPLICATIONS, seed=SEED)
    results.save(folder, line_text=text, plots=False)


def _comparison(folder: Path) -> None:
    changes = ("none", "fast_gantry", "second_grinder")
    lines = {change: linesim.load_line("ring_cell", change=change) for change in changes}
    linesim.compare(lines, hours=HOURS, replications=REPLICATIONS, seed=SEED).save(folder, plots=False)


def _sweep(folder: Path) -> None:
    linesim.sweep("ring_cell", FACTORS, folder, hours=20, replications=2, seed=SEED, plots=False)


def _made_s(folder: Path) -> tuple[float, float]:
    """Processor time, and time by the clock, without the start of the program."""
    began_s = time.process_time(), time.perf_counter()
    write_reports(folder, traced_again)
    return time.process_time() - began_s[0], time.perf_counter() - began_s[1]


def _waits_s(window: Chrome, page: Path) -> Iterator[float]:
    for _ in range(TURNS):
        window.get(page.as_uri())
        yield interactive_s(window)
