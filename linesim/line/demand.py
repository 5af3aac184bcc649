"""What the demand asks for an hour: the year's volume over the planned hours of a year."""

from __future__ import annotations

from linesim.line.calendar import has_calendar, planned_h_per_week
from linesim.line.model import WEEKS_A_YEAR, Line


def planned_h_per_year(line: Line) -> float | None:
    """Planned hours a year [h]: as the demand gives them, or from the week pattern; None without a demand."""
    if line.demand is None:
        return None
    if has_calendar(line):
        return planned_h_per_week(line) * weeks_per_year(line)
    return line.demand.planned


def weeks_per_year(line: Line) -> float:
    """Weeks a year that are worked."""
    return line.demand.weeks if line.demand and line.demand.weeks is not None else WEEKS_A_YEAR


def needed_per_h(line: Line) -> float | None:
    """Good parts per planned hour that demand asks for, or None."""
    hours = planned_h_per_year(line)
    return line.demand.volume / hours if line.demand and hours else None
