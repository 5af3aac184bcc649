"""What must hold for the week of a line: its shifts and their breaks, who keeps to them, the demand they serve."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from linesim.line.calendar import DAY_US, WEEK_US, has_calendar, planned_h_per_week, stretches
from linesim.line.checks import Finding
from linesim.line.model import Line, Shift
from linesim.line.problems import KeyPath
from linesim.line.week_words import DAYS, shown_time


def check_shifts(line: Line) -> Iterator[Finding]:
    """Everything of this file."""
    for name, shift in line.shifts.items():
        yield from _breaks_lie_in_their_shift(("shifts", name), shift)
    yield from _shifts_do_not_overlap(line)
    yield from _time_is_left(line)
    yield from _demand_has_hours(line)
    for name, crew in line.crews.items():
        if crew.shifts and not isinstance(crew.people, int):
            rule = "is not needed: people names the shifts already"
            yield Finding(("crews", name, "shifts"), list(crew.shifts), rule, "remove it")
    if not has_calendar(line):
        yield from _shift_words_need_shifts(line)


def _breaks_lie_in_their_shift(path: KeyPath, shift: Shift) -> Iterator[Finding]:
    length_s = (shift.end - shift.begin) % (DAY_US / 1e6) or DAY_US / 1e6
    for name, pause in shift.breaks.items():
        after_s = (pause.at - shift.begin) % (DAY_US / 1e6)
        if after_s + pause.takes > length_s:
            rule = f"must lie inside its shift ({shown_time(shift.begin)} to {shown_time(shift.end)})"
            here = (*path, "breaks", name, "at")
            beside = ((*path, "from"), (*path, "to"), (*path, "breaks", name, "takes"))
            yield Finding(here, shown_time(pause.at), rule, "move or shorten it", None, beside)


def _shifts_do_not_overlap(line: Line) -> Iterator[Finding]:
    spans = [
        (begin + week * WEEK_US, end + week * WEEK_US, name)
        for name, shift in line.shifts.items()
        for begin, end in stretches(shift)
        for week in (0, 1)
    ]
    spans.sort()
    told = set()
    for (_, end, one), (begin, _, other) in itertools.pairwise(spans):
        if begin < end and other not in told:
            told.add(other)
            day, at = DAYS[begin // DAY_US % 7], shown_time(begin % DAY_US / 1e6)
            rule = f"begins while {one} still runs, {day} {at}"
            beside = tuple(("shifts", name, key) for name in (one, other) for key in ("days", "from", "to"))
            yield Finding(("shifts", other), None, rule, "let one shift end before the next begins", None, beside)


def _time_is_left(line: Line) -> Iterator[Finding]:
    if has_calendar(line) and planned_h_per_week(line) == 0:
        kind = "planned_stops" if line.planned_stops else "shifts"
        yield Finding(
            (kind,),
            None,
            "leave no planned time in the week",
            "shorten stops or breaks",
            None,
            (("shifts",), ("planned_stops",)),
        )


def _demand_has_hours(line: Line) -> Iterator[Finding]:
    if line.demand is None:
        return
    if has_calendar(line):
        if line.demand.planned is not None:
            rule = "is not needed: the planned hours follow from shifts and planned_stops"
            fix = "remove it; demand.weeks says how many weeks a year are worked"
            yield Finding(("demand", "planned"), f"{line.demand.planned:g} h/year", rule, fix)
    elif line.demand.planned is None:
        yield Finding(("demand", "planned"), None, "is missing", "demand needs it, or a line with shifts")
    if line.demand.weeks is not None and not has_calendar(line):
        rule = "has a meaning only where the line has shifts or planned_stops"
        yield Finding(("demand", "weeks"), f"{line.demand.weeks:g}", rule, "remove it, or give shifts")


def _shift_words_need_shifts(line: Line) -> Iterator[Finding]:
    rule, fix = "has a meaning only where the line has shifts or planned_stops", "remove it, or give shifts"
    for kind in ("stations", "loaders"):
        for name, owner in getattr(line, kind).items():
            if owner.through_breaks:
                yield Finding((kind, name, "through_breaks"), True, rule, fix)
            if getattr(owner, "cold_start", None):
                yield Finding((kind, name, "cold_start"), None, rule, fix)
            if getattr(owner, "at_shift_end", "finish") != "finish":
                yield Finding((kind, name, "at_shift_end"), owner.at_shift_end, rule, fix)
