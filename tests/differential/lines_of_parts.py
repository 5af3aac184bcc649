"""Tiny lines of several part types, each with one thing that differs by type. Invented data."""

from __future__ import annotations

from linesim.engine.contract.ledger import MachineState
from linesim.engine.contract.trace import What
from tests.differential.lines_of_stations import Case
from tests.helpers.lines import Plain, breakdown, exponential, loader, serial, shift

_MIX: Plain = {"parts": {"small": {"share": "60 %"}, "large": {"share": "40 %"}}}
_ORDERS: Plain = {
    "parts": {"small": {}, "large": {}},
    "orders": [{"part": "small", "size": 3}, {"part": "large", "size": "2 parts"}, {"part": "small", "size": 1}],
}
_BY_TYPE = {"small": "3 s", "large": "5 s"}
_TAKES = {"small": {"large": "6 s"}, "large": {"small": "4 s"}}
_SETTER = {"setter": {"people": 1, "response": "2 s"}}
_STOPS = {"stocker": 0, "turn": 1, "park_1": 2, "mill": 3, "tray": 4}


def _line(turn: Plain, mill: Plain | None = None, **rest: object) -> Plain:
    return serial({"turn": {"cycle": "4 s", **turn}, "mill": {"cycle": "3 s", **(mill or {})}}, [2], **rest)


PARTS: dict[str, Case] = {
    "a_mix_of_parts": Case(_line({"cycle": _BY_TYPE}, **_MIX), (What.PART_TYPE,)),
    "parts_in_orders": Case(_line({"cycle": _BY_TYPE}, {"cycle": _BY_TYPE}, **_ORDERS), (What.PART_TYPE,)),
    "random_cycles_by_type": Case(_line({"cycle": {"small": exponential(3), "large": "5 s"}}, **_MIX)),
    "changeovers": Case(
        _line({"cycle": _BY_TYPE, "changeover": {"takes": _TAKES}}, **_ORDERS), (MachineState.CHANGEOVER,)
    ),
    "changeovers_in_a_mix_by_a_crew": Case(
        _line({"changeover": {"takes": _TAKES, "crew": "setter"}}, **_MIX, crews=_SETTER),
        (MachineState.CHANGEOVER, MachineState.WAITING_SETTER),
    ),
    "one_setter_for_two_stations": Case(
        _line(
            {"changeover": {"takes": _TAKES, "crew": "setter"}},
            {"changeover": {"takes": _TAKES, "crew": "setter"}},
            **_ORDERS,
            crews=_SETTER,
        ),
        (MachineState.CHANGEOVER, MachineState.WAITING_SETTER),
    ),
    "two_setters_at_an_urgent_changeover": Case(
        _line(
            {"changeover": {"takes": _TAKES, "crew": "setter"}},
            {"changeover": {"takes": _TAKES, "crew": "setter", "people": 2, "priority": "high"}},
            **_ORDERS,
            crews={"setter": {"people": 2, "response": "1 s"}},
        ),
        (MachineState.CHANGEOVER, MachineState.WAITING_SETTER),
    ),
    "changeovers_of_random_length": Case(
        _line({"changeover": {"takes": {"small": {"large": exponential(6)}}}}, **_ORDERS), (MachineState.CHANGEOVER,)
    ),
    "changeovers_beside_tool_changes": Case(
        _line(
            {
                "changeover": {"takes": _TAKES},
                "tool_change": {"insert": {"every": "3 parts", "takes": "4 s", "overlaps": "loading"}},
            },
            **_ORDERS,
        ),
        (MachineState.CHANGEOVER, MachineState.TOOL_CHANGE),
    ),
    "changeovers_and_breakdowns": Case(
        _line(
            {
                "changeover": {"takes": _TAKES, "crew": "setter"},
                "breakdowns": {"jam": breakdown(7, 5, clock="calendar")},
            },
            {"changeover": {"takes": _TAKES}, "breakdowns": {"jam": breakdown(11, 5, part="scrap")}},
            **_ORDERS,
            crews=_SETTER,
        ),
        (MachineState.CHANGEOVER, MachineState.UNDER_REPAIR),
    ),
    "changeovers_of_machines_side_by_side": Case(
        _line({}, {"cycle": _BY_TYPE, "machines": 2, "changeover": {"takes": _TAKES}}, **_ORDERS),
        (MachineState.CHANGEOVER,),
    ),
    "changeovers_of_unequal_machines": Case(
        _line(
            {},
            {
                "cycle": _BY_TYPE,
                "changeover": {"takes": _TAKES},
                "machines": {"mill_1": {"cycle": {"large": "7 s"}}, "mill_2": {"changeover": None}},
            },
            **_ORDERS,
        ),
        (MachineState.CHANGEOVER,),
    ),
    "changeovers_under_a_loader": Case(
        _line(
            {"changeover": {"takes": _TAKES, "crew": "setter"}},
            {"cycle": _BY_TYPE, "changeover": {"takes": _TAKES}},
            **_ORDERS,
            crews=_SETTER,
            loaders={"gantry": loader(_STOPS, grippers=2)},
        ),
        (MachineState.CHANGEOVER, What.TOUR),
    ),
    "changeovers_with_calls_ahead": Case(
        _line(
            {"changeover": {"takes": _TAKES}, "call_ahead": "3 s"},
            **_ORDERS,
            loaders={"gantry": loader(_STOPS, grippers=2)},
        ),
        (MachineState.CHANGEOVER, What.CALL),
    ),
    "changeovers_at_the_end_of_a_shift": Case(
        _line(
            {"changeover": {"takes": _TAKES}},
            {"changeover": {"takes": _TAKES, "crew": "setter"}},
            **_ORDERS,
            crews=_SETTER,
            shifts={"early": shift("0:00", "0:01"), "late": shift("0:02", "0:09")},
        ),
        (MachineState.CHANGEOVER, MachineState.OFF_SHIFT),
    ),
}
