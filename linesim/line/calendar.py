"""The week of a line: who is on shift when. Times are whole microseconds since Monday 0:00, the start of every run."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

import numpy as np

from linesim.line.model import Crew, Line, Loader, Shift, Station

HOUR_US = 3_600_000_000
DAY_US = 24 * HOUR_US
WEEK_US = 7 * DAY_US

ON, PLANNED_STOP, OFF_SHIFT = range(3)

Stretch = tuple[int, int]  # from, to; one that begins on Sunday may end in the week after


def has_calendar(line: Line) -> bool:
    """Whether the line keeps to a week at all; without one it runs through."""
    return bool(line.shifts or line.planned_stops)


def stretches(shift: Shift) -> list[Stretch]:
    """When a shift runs, once for each of its days. One whose end is not after its beginning passes midnight."""
    length = _us(shift.end) - _us(shift.begin)
    length += DAY_US if length <= 0 else 0
    return [(day * DAY_US + _us(shift.begin), day * DAY_US + _us(shift.begin) + length) for day in shift.days]


def break_stretches(shift: Shift) -> list[Stretch]:
    """When the breaks of a shift are; each belongs to the shift that began before it, past midnight too."""
    found = []
    for pause in shift.breaks.values():
        after = (_us(pause.at) - _us(shift.begin)) % DAY_US
        found += [(begin + after, begin + after + _us(pause.takes)) for begin, _ in stretches(shift)]
    return found


def planned_stop_stretches(line: Line) -> list[Stretch]:
    """When the whole line stands for a planned stop."""
    stops = line.planned_stops.values()
    return [(day * DAY_US + _us(s.at), day * DAY_US + _us(s.at) + _us(s.takes)) for s in stops for day in s.days]


def edges_us(line: Line) -> list[int]:
    """Times of the week at which anything of it may change, in order; Monday 0:00 is the first."""
    spans = planned_stop_stretches(line)
    for shift in line.shifts.values():
        spans += stretches(shift) + break_stretches(shift)
    return sorted({0, *(edge % WEEK_US for span in spans for edge in span)})


def _pieces(line: Line) -> list[Stretch]:
    """The whole week, cut wherever anything of it may change."""
    return list(itertools.pairwise([*edges_us(line), WEEK_US]))


def duty(line: Line, owner: Station | Loader, time_us: int) -> int:
    """ON, PLANNED_STOP or OFF_SHIFT: what the week has for a station or loader at this time."""
    return _duty(line, owner.shifts, owner.through_breaks, time_us)


def _duty(line: Line, shifts: Iterable[str], through_breaks: bool, time_us: int) -> int:
    shift = running_shift(line, shifts, time_us)
    if line.shifts and shift is None:
        return OFF_SHIFT
    in_break = shift is not None and _within(break_stretches(line.shifts[shift]), time_us)
    if (in_break and not through_breaks) or _within(planned_stop_stretches(line), time_us):
        return PLANNED_STOP
    return ON


def people_on_duty(line: Line, crew: Crew, time_us: int) -> int:
    """How many people of a crew take calls at this time: none in a break. Planned stops of the line are no breaks."""
    shift = running_shift(line, crew.works_in, time_us)
    if shift is None:
        return 0 if line.shifts else crew.most_people
    in_break = _within(break_stretches(line.shifts[shift]), time_us)
    return 0 if in_break else crew.people if isinstance(crew.people, int) else crew.people[shift]


def running_shift(line: Line, names: Iterable[str], time_us: int) -> str | None:
    """The shift that runs at this time; of those named, or of all if none is named. Shifts never overlap."""
    for name in names or line.shifts:
        if _within(stretches(line.shifts[name]), time_us):
            return name
    return None


def planned_stretches(line: Line, horizon_us: int) -> np.ndarray:
    """When the line is planned to run, from 0 up to the horizon: int64, shape (n, 2), columns from, to [us].

    In any of its shifts, in no break and no planned stop.
    """
    if not has_calendar(line):
        return np.array([(0, horizon_us)], dtype=np.int64)
    week = _planned_week(line)
    weeks = range(-(-horizon_us // WEEK_US))
    found = [(n * WEEK_US + begin, min(n * WEEK_US + end, horizon_us)) for n in weeks for begin, end in week]
    return np.array([span for span in found if span[0] < span[1]], dtype=np.int64).reshape(-1, 2)


def first_planned_us(line: Line, from_us: int, to_us: int) -> int:
    """When between two times the line is first planned to run [us]; the earlier of the two if it never is."""
    spans = planned_stretches(line, to_us).tolist()
    return next((max(from_us, begin) for begin, end in spans if end > from_us), from_us)


def planned_h_per_week(line: Line) -> float:
    """Planned hours of the line a week [h]: its shifts without breaks and planned stops."""
    return sum(end - begin for begin, end in _planned_week(line)) / HOUR_US


def person_h_per_week(line: Line, crew: Crew) -> float:
    """Hours a week that the people of a crew are on duty, all together [h]."""
    return sum((end - begin) * people_on_duty(line, crew, begin) for begin, end in _pieces(line)) / HOUR_US


def planned_share(line: Line, station: Station) -> float:
    """Planned time of a station / planned time of the line; above 1 if it runs through breaks."""
    if not has_calendar(line):
        return 1.0
    return station_h_per_week(line, station) / planned_h_per_week(line)


def station_h_per_week(line: Line, station: Station) -> float:
    """Planned hours of a station a week [h]."""
    return sum(end - begin for begin, end in _pieces(line) if duty(line, station, begin) == ON) / HOUR_US


def stands_us(line: Line, station: Station) -> list[int]:
    """How long a station is off duty each time in the week [us]; from Sunday into Monday it is one time."""
    on_duty: list[Stretch] = []
    for begin, end in _pieces(line):
        if duty(line, station, begin) == ON:
            if on_duty and on_duty[-1][1] == begin:
                begin = on_duty.pop()[0]
            on_duty.append((begin, end))
    if not on_duty:
        return []
    following = [*on_duty[1:], (on_duty[0][0] + WEEK_US, 0)]
    return [begin - end for (_, end), (begin, _) in zip(on_duty, following, strict=True) if begin > end]


def _planned_week(line: Line) -> list[Stretch]:
    """Cut at the end of the week, and put together where one follows the other at once."""
    found: list[Stretch] = []
    for begin, end in _pieces(line):
        if _duty(line, (), False, begin) == ON:
            if found and found[-1][1] == begin:
                begin = found.pop()[0]
            found.append((begin, end))
    return found


def _within(spans: Sequence[Stretch], time_us: int) -> bool:
    """Whether a time of the week lies in one of these; those that reach into the next week begin it as well."""
    return any(begin <= time_us < end or begin <= time_us + WEEK_US < end for begin, end in spans)


def _us(seconds: float) -> int:
    return round(seconds * 1e6)
