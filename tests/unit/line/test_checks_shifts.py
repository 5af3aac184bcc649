"""A week that can't be is told with the key to look at."""

from __future__ import annotations

from typing import Any

import pytest
import yaml

from linesim.line import load_line
from tests.unit.line.lines import cell, messages, problems

DAY = {"days": "mon to fri", "from": "6:00", "to": "14:00"}


def week(*overrides: str, **changes: Any) -> list[str]:
    return [f"{p.key}: {p.rule}" for p in problems(cell(shifts={"day": DAY}) | changes, *overrides)]


def test_a_sound_week_has_no_problems() -> None:
    assert week("shifts.night={days: sun to thu, from: 14:00, to: 6:00}", "stations.turn.shifts=[day, night]") == []


NOT_NEEDED = "is not needed: the planned hours follow from shifts and planned_stops"
WRONG = {
    "shifts.day.from=6": "shifts.day.from: must be a time of day with hours and minutes",
    "shifts.day.to=26:00": "shifts.day.to: is no time of day",
    "shifts.day.days=work": "shifts.day.days: work is no day of the week (mon, tue, wed, thu, fri, sat and sun)",
    "shifts.day.breaks.a={at: 13:45, takes: 1 h}": "shifts.day.breaks.a.at: must lie inside its shift (6:00 to 14:00)",
    "shifts.late={days: fri, from: 13:00, to: 20:00}": "shifts.late: begins while day still runs, fri 13:00",
    "shifts.late={days: sun, from: 22:00, to: 7:00}": "shifts.day: begins while late still runs, mon 6:00",
    "planned_stops.off={days: mon to sun, at: 0:00, takes: 24 h}": "planned_stops: leave no planned time in the week",
    "stations.turn.shifts=[early]": "stations.turn.shifts[0]: early is no shift of this line",
    "loaders.gantry.shifts=[early]": "loaders.gantry.shifts[0]: early is no shift of this line",
    "loaders.gantry.through_breaks=yes please": "loaders.gantry.through_breaks: must be true or false",
    "stations.turn.at_shift_end=stop": "stations.turn.at_shift_end: must be finish or pause",
    "demand={volume: 85000 /year, planned: 3480 h/year}": f"demand.planned: {NOT_NEEDED}",
}

CREW = {
    "{people: {late: 2}}": "crews.fitter.people.late: late is no shift of this line",
    "{people: {day: 0}}": "crews.fitter.people: must have somebody in some shift",
    "{people: {day: -1}}": "crews.fitter.people.day: must be 0 or more",
    "{people: {day: 2 people}}": "crews.fitter.people.day: must be a count, without a unit",
    "{people: 0}": "crews.fitter.people: must be 1 or more",
    "{people: {day: 2}, shifts: [day]}": "crews.fitter.shifts: is not needed: people names the shifts already",
}


@pytest.mark.parametrize("crew", CREW)
def test_what_is_wrong_with_the_people_of_a_shift_is_told(crew: str) -> None:
    given = {
        **cell()["stations"],
        "turn": {"cycle": "60 s", "tool_change": {"t": {"every": "9 parts", "takes": "1 s", "crew": "fitter"}}},
    }
    assert week(stations=given, crews={"fitter": yaml.safe_load(crew)}) == [CREW[crew]]


def test_a_cold_start_needs_shifts_and_a_time() -> None:
    start = {"after": "24 h", "takes": "20 min", "scrap": "2 parts"}
    given = cell()["stations"]
    plain = cell(stations=given | {"turn": {"cycle": "60 s", "cold_start": start}})
    assert messages(plain) == [
        "stations.turn.cold_start: has a meaning only where the line has shifts or planned_stops. "
        "Remove it, or give shifts."
    ]
    bad = {"cycle": "60 s", "cold_start": {"after": "0 h", "takes": "20 min", "scrap": "-1 parts"}}
    told = [
        "stations.turn.cold_start.after: must be above 0 s",
        "stations.turn.cold_start.scrap: must be 0 parts or more",
    ]
    assert week(stations=given | {"turn": bad}) == told


@pytest.mark.parametrize("override", WRONG)
def test_what_is_wrong_with_a_week_is_told(override: str) -> None:
    assert week(override) == [WRONG[override]]


MEANS_NOTHING = "has a meaning only where the line has shifts or planned_stops"


@pytest.mark.parametrize(
    "override",
    [
        "stations.turn.through_breaks=true",
        "stations.turn.at_shift_end=pause",
        "demand={volume: 1 /year, planned: 9 h/year, weeks: 50}",
    ],
)
def test_words_of_the_week_need_a_week(override: str) -> None:
    assert [problem.rule for problem in problems(cell(), override)] == [MEANS_NOTHING]


def test_a_demand_needs_its_hours_from_somewhere() -> None:
    assert [p.key for p in problems(cell(demand={"volume": "85000 /year"}))] == ["demand.planned"]


def test_times_of_day_may_stand_without_quotes_in_files_changes_and_overrides(tmp_path: Any) -> None:
    file = tmp_path / "line.yaml"
    shifts = "shifts: {day: {days: mon, from: 6:00, to: 14:00}}"
    file.write_text(f"route: [mill]\nstations: {{mill: {{cycle: 9 s}}}}\n{shifts}\n", encoding="utf-8")
    change = tmp_path / "later.yaml"
    change.write_text("# @package line\nshifts: {day: {to: 15:00}}\n", encoding="utf-8")
    shift = load_line(file, ["shifts.day.from=7:30"], change).shifts["day"]
    assert (shift.begin, shift.end) == (7.5 * 3600, 15 * 3600)


def test_a_number_is_not_taken_for_a_time_of_day() -> None:
    assert "write" in messages(cell(shifts={"day": {**DAY, "from": 360}}))[0].lower()
