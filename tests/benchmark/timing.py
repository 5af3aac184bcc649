"""Speeds on a machine that others use too: programs take turns, and what counts is the median of the ratios of a turn.

Speeds are work per second of processor time of this process, so that waiting for a processor does not count; what
others do to caches, memory and clock rate still does. Every figure comes with the least and largest of its turns.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

TURNS = 7

Program = Callable[[], float]  # runs and returns how much work it did


@dataclass(frozen=True)
class Figure:
    """One line of the table: median, least and largest of its turns; the target is a word, or "" if there is none."""

    what: str
    median: float
    least: float
    largest: float
    unit: str
    target: str = ""

    def cells(self) -> tuple[str, ...]:
        spread = "" if self.least == self.largest else f"{shown(self.least)} to {shown(self.largest)}"
        return self.what, shown(self.median), spread, self.unit, self.target


def figure(what: str, values: Iterable[float], unit: str, target: str = "") -> Figure:
    """The figure of all turns."""
    turns = list(values)
    return Figure(what, statistics.median(turns), min(turns), max(turns), unit, target)


def speeds(programs: Mapping[str, Program], turns: int = TURNS) -> dict[str, list[float]]:
    """Work per second of processor time for each program and turn; each program runs once before, to be compiled."""
    for program in programs.values():
        program()
    found: dict[str, list[float]] = {name: [] for name in programs}
    for _ in range(turns):
        for name, program in programs.items():
            began_s = time.process_time()
            work = program()
            found[name].append(work / (time.process_time() - began_s))
    return found


def ratios(over: Iterable[float], under: Iterable[float]) -> list[float]:
    """Ratios turn by turn."""
    return [a / b for a, b in zip(over, under, strict=True)]


def shown(value: float) -> str:
    """Three digits that tell, thousands apart."""
    if value >= 1000:
        digits = len(str(int(value)))
        return f"{round(value, 3 - digits):,.0f}"
    return f"{value:.3g}"


def table(figures: Iterable[Figure]) -> str:
    """The figures as a table in plain text that is also Markdown."""
    head = ("figure", "median", "spread", "unit", "target")
    rows = [head, *(each.cells() for each in figures)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(head))]
    lines = [" | ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) for row in rows]
    lines.insert(1, " | ".join("-" * width for width in widths))
    return "\n".join(f"| {line} |" for line in lines)
