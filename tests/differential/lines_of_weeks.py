"""Tiny lines that keep to a week, on the first minutes of its Monday; whole seconds. Invented data."""

from __future__ import annotations

from linesim.engine.contract.ledger import CarriageState, MachineState
from linesim.engine.contract.trace import What
from tests.differential.lines_of_stations import Case
from tests.helpers.lines import Plain, breakdown, loader, serial, shift

_SHIFTS = {
    "early": shift("0:00", "0:03", "mon to fri", rest=("0:01", "40 s")),
    "late": shift("0:04", "0:07", "mon", rest=("0:05", "20 s")),
}
_OFF = MachineState.OFF_SHIFT
_STOPPED = MachineState.PLANNED_STOP


def _line(**keys: object) -> Plain:
    return serial({"a": 7, "b": {"cycle": "11 s", **keys}, "c": 5}, [2, 1], shifts=_SHIFTS)


def _failing(crew: Plain, **station: object) -> Plain:
    jams = {"jam": breakdown(37, 15, crew="fitter"), "fuse": breakdown(50, 9, clock="calendar", crew="fitter")}
    check = {"check": {"every": "45 s", "takes": "4 s", "age": "5 s"}}
    wheel = {"wheel": {"every": "3 parts", "takes": "6 s", "age": "0 parts"}}
    return {**_line(breakdowns=jams, cleaning=check, dressing=wheel, **station), "crews": {"fitter": crew}}


_CARRIED = serial({"a": 7, "b": {"cycle": "30 s", "machines": 2}}, shifts=_SHIFTS)
_STOPS = {"stocker": 0, "a": 4, "b": [8, 10], "tray": 14}

WEEKS: dict[str, Case] = {
    "shifts_and_breaks": Case(_line(), (What.DUTY, _OFF, _STOPPED)),
    "pause_at_the_end_of_a_shift": Case(_line(at_shift_end="pause"), (_OFF, _STOPPED)),
    "a_station_of_one_shift": Case(_line(shifts=["late"]), (_OFF,)),
    "a_station_through_its_breaks": Case(_line(through_breaks=True), (_OFF, _STOPPED)),
    "planned_stop": Case(
        {**_line(), "shifts": {}, "planned_stops": {"service": {"days": "mon", "at": "0:02", "takes": "90 s"}}},
        (What.DUTY, _STOPPED),
    ),
    "cold_start": Case(
        _line(cold_start={"after": "30 s", "takes": "4 s", "scrap": "2 parts"}, at_shift_end="pause"),
        (What.STOP, What.SCRAP, MachineState.CHANGEOVER),
    ),
    "cold_start_by_people": Case(
        _failing(
            {"response": "3 s", "people": 2},
            cold_start={"after": "1 min", "takes": "4 s", "crew": "fitter", "people": 2, "priority": "low"},
        ),
        (What.STOP, What.CREW, MachineState.CHANGEOVER),
    ),
    "a_crew_of_both_shifts": Case(_failing({"response": "3 s"}), (What.CREW, What.DUTY, _OFF)),
    "a_crew_of_the_late_shift": Case(_failing({"shifts": ["late"]}, through_breaks=True), (What.CREW,)),
    "more_people_in_one_shift": Case(_failing({"people": {"early": 2, "late": 1}, "response": "1 s"}), (What.CREW,)),
    "two_people_of_the_early_shift": Case(
        {
            **_line(breakdowns={"jam": breakdown(37, 15, crew="fitter", people=2)}),
            "crews": {"fitter": {"people": {"early": 2, "late": 1}}},
        },
        (What.CREW,),
    ),
    "breakdowns_and_stops_of_a_machine_that_pauses": Case(_failing({}, at_shift_end="pause"), (What.STOP, _OFF)),
    "a_loader_with_shifts": Case(
        {**_CARRIED, "loaders": {"gantry": loader(_STOPS, grippers=2, park_at="stocker")}},
        (CarriageState.OFF_SHIFT, What.TOUR),
    ),
    "a_loader_of_one_shift_through_its_breaks": Case(
        {**_CARRIED, "loaders": {"gantry": loader(_STOPS, shifts=["early"], through_breaks=True)}},
        (CarriageState.OFF_SHIFT, What.TOUR),
    ),
    "a_loader_that_fails_with_shifts": Case(
        {
            **_CARRIED,
            "loaders": {"gantry": loader(_STOPS, breakdowns={"belt": breakdown(29, 20, crew="fitter")})},
            "crews": {"fitter": {"response": "2 s"}},
        },
        (CarriageState.OFF_SHIFT, What.FAIL),
    ),
    "a_fixed_round_with_shifts": Case(
        {
            **serial({"a": 50}, shifts=_SHIFTS),
            "loaders": {"gantry": loader({"stocker": 0, "a": 4, "tray": 9}, next_call={"fixed": ["stocker", "a"]})},
        },
        (CarriageState.OFF_SHIFT, CarriageState.WAITING_AT_MACHINE),
    ),
}
