"""Tiny lines, each with one feature of stations, buffers or the ends of a route; whole seconds, so that much coincides.

Every case names what its trace must show, so that a line that never gets to its feature is found. Invented data.
"""

from __future__ import annotations

from dataclasses import dataclass

from linesim.engine.contract.ledger import CarriageState, MachineState
from linesim.engine.contract.trace import What
from tests.helpers.lines import Plain, alone, breakdown, seconds, serial

State = MachineState | CarriageState


@dataclass(frozen=True)
class Case:
    """A line, and the kinds of rows and the states of which its trace must hold at least one."""

    line: Plain
    shows: tuple[What | State, ...] = ()
    comes_to_a_stand: bool = False


def _stop(every: str, takes_s: float = 4, **rest: object) -> Plain:
    return {"every": every, "takes": seconds(takes_s), **rest}


def _without(line: Plain, *ends: str) -> Plain:
    names = [name for end in ends for name in line[end]]
    return {**line, **{end: {} for end in ends}, "route": [name for name in line["route"] if name not in names]}


_THREE = serial({"turn": 6, "mill": 4, "grind": 6}, [2, 1])
_DIRECT = serial({"turn": 6, "mill": 4, "grind": 8})

FLOW: dict[str, Case] = {
    "one_station": Case(alone(5), (What.START, MachineState.WORKING)),
    "buffers_of_equal_machines": Case(serial({"a": 5, "b": 5, "c": 5}, [2, 2])),
    "a_slow_last_station_blocks": Case(serial({"a": 2, "b": 3, "c": 7}, [1, 2]), (MachineState.BLOCKED,)),
    "a_slow_first_station_starves": Case(serial({"a": 7, "b": 3, "c": 2}, [1, 2]), (MachineState.STARVED,)),
    "direct_hand_over": Case(_DIRECT, (MachineState.BLOCKED,)),
    "direct_hand_over_through_capacity_zero": Case(
        {**_DIRECT, "route": ["stocker", "turn", "none", "mill", "grind", "tray"], "buffers": {"none": {"capacity": 0}}}
    ),
    "a_cycle_of_no_time": Case(serial({"a": 3, "b": 0, "c": 0, "d": 3}, [0, 1, 0])),
    "no_infeed": Case(_without(_THREE, "infeed")),
    "no_outfeed": Case(_without(_THREE, "outfeed")),
    "neither_infeed_nor_outfeed": Case(_without(_THREE, "infeed", "outfeed")),
    "parallel_machines": Case(serial({"a": 2, "b": {"machines": 3, "cycle": "6 s"}, "c": 2}, [1, 1])),
    "parallel_machines_hand_over_directly": Case(
        serial({"a": {"machines": 2, "cycle": "4 s"}, "b": {"machines": 3, "cycle": "6 s"}, "c": 2})
    ),
    "unequal_machines": Case(
        serial(
            {
                "a": 2,
                "b": {
                    "cycle": "6 s",
                    "machines": {
                        "b_quick": {"cycle": "3 s", "tool_change": {"insert": None}},
                        "b_weak": {"breakdowns": {"jam": breakdown(9, 4)}},
                        "b_plain": {},
                    },
                    "tool_change": {"insert": _stop("2 parts")},
                },
                "c": 2,
            },
            [1, 1],
        ),
        (What.FAIL, What.STOP),
    ),
    "dwell": Case({**_THREE, "buffers": {"park_1": {"capacity": 3, "dwell": "9 s"}, "park_2": {"capacity": 1}}}),
    "dwell_of_each_part_ends_with_a_cycle": Case(
        {**_THREE, "buffers": {"park_1": {"capacity": 4, "dwell": "12 s"}, "park_2": {"capacity": 2, "dwell": "6 s"}}}
    ),
    "before_service": Case(
        serial({"a": 2, "b": {"cycle": "3 s", "blocking": "before_service"}, "c": 7}, [1, 1]), (MachineState.BLOCKED,)
    ),
    "before_service_direct_and_parallel": Case(
        serial(
            {
                "a": {"machines": 2, "cycle": "3 s", "blocking": "before_service"},
                "b": {"machines": 2, "cycle": "4 s", "blocking": "before_service"},
                "c": 5,
            }
        ),
        (MachineState.BLOCKED,),
    ),
    "before_service_into_dwell": Case(
        {
            **serial({"a": {"cycle": "2 s", "blocking": "before_service"}, "b": 5}, [2]),
            "buffers": {"park_1": {"capacity": 2, "dwell": "6 s"}},
        },
        (MachineState.BLOCKED,),
    ),
}

_CALLED = {"technician": {"people": 1, "response": "2 s"}}


def _failing(cause: Plain, **rest: Plain) -> Plain:
    return serial({"a": 4, "b": {"cycle": "5 s", "breakdowns": {"jam": cause, **rest}}, "c": 4}, [1, 1])


BREAKDOWNS: dict[str, Case] = {
    f"breakdown_{clock}_{part}": Case(
        _failing(breakdown(13, 7, clock=clock, part=part)),
        (What.FAIL, What.REPAIRED, MachineState.UNDER_REPAIR) + ((What.SCRAP,) if part == "scrap" else ()),
    )
    for clock in ("working", "calendar")
    for part in ("resume", "restart", "scrap")
} | {
    "breakdown_at_the_end_of_a_cycle": Case(_failing(breakdown(20, 5)), (What.FAIL,)),
    "breakdown_by_the_calendar_at_the_end_of_a_cycle": Case(
        _failing(breakdown(15, 5, clock="calendar", part="scrap")), (What.FAIL,)
    ),
    "repair_of_no_time": Case(_failing(breakdown(10, 0, part="restart")), (What.FAIL, What.REPAIRED)),
    "several_causes_due_together": Case(
        _failing(breakdown(12, 3), slip=breakdown(12, 4, part="scrap"), fuse=breakdown(24, 6, clock="calendar")),
        (What.FAIL, What.SCRAP),
    ),
    "breakdowns_of_neighbours_coincide": Case(
        serial({name: {"cycle": "5 s", "breakdowns": {"jam": breakdown(15, 5)}} for name in "abc"}, [0, 1]),
        (What.FAIL,),
    ),
    "breakdown_of_parallel_machines": Case(
        serial({"a": 2, "b": {"machines": 2, "cycle": "5 s", "breakdowns": {"jam": breakdown(11, 6)}}, "c": 2}),
        (What.FAIL,),
    ),
    "repair_by_a_crew": Case(
        _failing(breakdown(13, 7, crew="technician")) | {"crews": _CALLED}, (What.CREW, MachineState.WAITING_REPAIR)
    ),
    "a_crew_that_is_there_at_once": Case(
        _failing(breakdown(13, 7, crew="technician")) | {"crews": {"technician": {}}}, (What.CREW,)
    ),
    "one_person_for_three_machines": Case(
        serial({n: {"cycle": "4 s", "breakdowns": {"jam": breakdown(12, 6, crew="technician")}} for n in "abc"}, [1, 1])
        | {"crews": _CALLED},
        (What.CREW, MachineState.WAITING_REPAIR),
    ),
    "two_people_for_three_machines": Case(
        serial({n: {"cycle": "4 s", "breakdowns": {"jam": breakdown(12, 6, crew="technician")}} for n in "abc"}, [1, 1])
        | {"crews": {"technician": {"people": 2, "response": "3 s"}}},
        (What.CREW, MachineState.WAITING_REPAIR),
    ),
    "two_crews": Case(
        _failing(breakdown(13, 7, crew="technician"), slip=breakdown(9, 3, crew="setter"))
        | {"crews": {**_CALLED, "setter": {"response": "0 s"}}},
        (What.CREW,),
    ),
}

_BOOKED = {
    "tool_change": MachineState.TOOL_CHANGE,
    "dressing": MachineState.DRESSING,
    "measuring": MachineState.MEASURING_STOP,
    "cleaning": MachineState.CLEANING,
}


def _stopping(kind: str, stop: Plain, **station: object) -> Plain:
    return serial({"a": 4, "b": {"cycle": "5 s", kind: {"job": stop}, **station}, "c": 4}, [1, 1])


_LIFE = {"family": "weibull", "mean": "7 parts", "shape": 2}
_BREAKABLE = _stop("6 parts", life=_LIFE, breakage={"takes": "9 s", "crew": "fitter"})

TOOLS: dict[str, Case] = {
    "a_tool_that_breaks_or_is_changed_before": Case(
        serial({"a": 4, "b": {"cycle": "5 s", "tool_change": {"t": _BREAKABLE}}}, [2])
        | {"crews": {"fitter": {"response": "3 s"}}},
        (What.STOP, What.SCRAP, What.CREW),
    ),
    "a_tool_that_breaks_in_the_midst_of_work": Case(
        serial(
            {
                "a": 4,
                "b": {
                    "cycle": "5 s",
                    "tool_change": {
                        "t": _stop("33 s", life={"family": "weibull", "mean": "40 s", "shape": 2}, clock="working"),
                        "u": {"takes": "3 s", "life": "17 s"},
                    },
                    "breakdowns": {"jam": breakdown(34, 6, part="scrap")},
                },
            },
            [2],
        ),
        (What.STOP, What.SCRAP, What.FAIL),
    ),
    "a_wheel_worn_by_dressing": Case(
        alone(
            {
                "cycle": "5 s",
                "dressing": {"fine": _stop("3 parts", 2), "rough": _stop("20 s", 3)},
                "tool_change": {
                    "wheel": _stop("3 dressings", 9, worn_by="rough"),
                    "hub": _stop("7 dressings", 9) | {"worn_by": "fine", "age": "2 dressings"},
                },
            }
        ),
        (MachineState.TOOL_CHANGE, MachineState.DRESSING),
    ),
}

STOPS: dict[str, Case] = {
    f"{kind}_every_{every.replace(' ', '_')}_{clock}": Case(
        _stopping(kind, _stop(every, age=age) | ({} if "parts" in every else {"clock": clock})),
        (What.STOP, What.STOP_OVER, state),
    )
    for kind, state in _BOOKED.items()
    for every, clock, age in (("3 parts", "count", "0 parts"), ("20 s", "working", "5 s"), ("20 s", "calendar", "0 s"))
} | {
    "stop_of_drawn_age_by_count": Case(_stopping("dressing", _stop("7 parts")), (What.STOP,)),
    "stop_of_drawn_age_by_time": Case(_stopping("cleaning", _stop("31 s")), (What.STOP,)),
    "stop_after_every_part": Case(_stopping("dressing", _stop("1 parts", 2)), (What.STOP,)),
    "stop_of_no_time": Case(_stopping("dressing", _stop("2 parts", 0)), (What.STOP, What.STOP_OVER)),
    "stops_due_together": Case(
        _stopping("dressing", _stop("2 parts", age="0 parts"), cleaning={"wash": _stop("4 parts", 3, age="0 parts")}),
        (MachineState.DRESSING, MachineState.CLEANING),
    ),
    "stop_waits_for_its_crew": Case(
        _stopping("tool_change", _stop("2 parts", crew="technician")) | {"crews": _CALLED},
        (What.CREW, MachineState.WAITING_SETTER),
    ),
    "stop_and_breakdown_call_one_crew": Case(
        _stopping(
            "tool_change",
            _stop("2 parts", age="0 parts", crew="technician"),
            breakdowns={"jam": breakdown(10, 5, crew="technician")},
        )
        | {"crews": _CALLED},
        (What.CREW, What.FAIL, What.STOP),
    ),
    "breakdown_in_a_stop": Case(
        _stopping("cleaning", _stop("15 s", 8, age="0 s"), breakdowns={"jam": breakdown(18, 4, clock="calendar")}),
        (What.FAIL, What.STOP),
    ),
    "stop_with_a_finished_part_on_board": Case(
        serial({"a": 2, "b": {"cycle": "2 s", "dressing": {"job": _stop("2 parts", 3)}}, "c": 9}), (What.STOP,)
    ),
    "stop_overlaps_hand_over": Case(_stopping("dressing", _stop("2 parts", 6, overlaps="loading")), (What.STOP,)),
}
