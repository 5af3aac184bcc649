"""Tiny lines on which some parts skip places: the mill, or the mill and the park in front of it. Invented data."""

from __future__ import annotations

from typing import Any

from linesim.engine.contract.ledger import MachineState
from linesim.engine.contract.trace import What
from tests.differential.lines_of_stations import Case
from tests.helpers.lines import Plain, exponential, loader, serial

_ORDERS = [{"part": "small", "size": 2}, {"part": "large", "size": 1}]
_TAKES = {"small": {"large": "6 s"}, "large": {"small": "4 s"}}
_MIX: Plain = {"parts": {"small": {"share": "60 %", "skips": "mill"}, "large": {"share": "40 %"}}}
_STOPS = {"stocker": 0, "turn": 1, "park_1": 2, "mill": 3, "wash": 5, "tray": 6}


def _skip(*places: str) -> Plain:
    return {"parts": {"small": {"skips": list(places)}, "large": {}}, "orders": _ORDERS}


def _line(rules: Plain, turn: Plain | None = None, mill: Plain | None = None, wash: Plain | None = None) -> Plain:
    given = {"turn": turn or {}, "mill": mill or {}, "wash": wash or {}}
    cycles = {"turn": "3 s", "mill": "7 s", "wash": "2 s"}
    return serial({name: {"cycle": cycles[name], **station} for name, station in given.items()}, [2, 0], **rules)


def _gantry(**keys: Any) -> Plain:
    return {"loaders": {"gantry": loader(_STOPS, **keys)}}


SKIPS: dict[str, Case] = {
    "parts_that_skip_a_station": Case(_line(_MIX, mill={"cycle": {"large": exponential(7)}}), (What.PART_TYPE,)),
    "parts_that_skip_buffer_and_station": Case(_line(_skip("park_1", "mill"), {"machines": 2}), (What.PART_TYPE,)),
    "parts_that_skip_the_first_station": Case(_line(_skip("turn")), (What.PART_TYPE,)),
    "parts_that_skip_the_last_station": Case(_line(_skip("wash") | _gantry()), (What.PART_TYPE, What.TOUR)),
    "parts_that_skip_under_a_loader": Case(_line(_skip("park_1", "mill") | _gantry()), (What.PART_TYPE, What.TOUR)),
    "swaps_with_parts_that_skip": Case(
        _line(_MIX | _gantry(grippers=2, exchanges_per_tour=2), mill={"changeover": {"takes": _TAKES}}),
        (What.PART_TYPE, What.TOUR),
    ),
    "parts_of_a_buffer_that_go_two_ways": Case(
        _line(_skip("mill") | {"loaders": {"gantry": loader({"park_1": 0, "wash": 2, "tray": 4})}}),
        (What.PART_TYPE, What.TOUR),
    ),
    "skips_and_blocking_before_service": Case(
        _line(_skip("park_1", "mill"), {"blocking": "before_service", "machines": 2}, {"cycle": "20 s"}),
        (What.PART_TYPE, MachineState.BLOCKED),
    ),
    "skips_and_calls_ahead": Case(
        _line(_skip("park_1", "mill") | _gantry(), {"call_ahead": "2 s"}), (What.PART_TYPE, What.CALL)
    ),
    "skips_within_a_rework_loop": Case(
        _line(
            _skip("mill"),
            {"defects": {"size": "40 %"}},
            wash={"inspection": {"rework": {"to": "turn"}}},
        ),
        (What.PART_TYPE, What.REWORK),
    ),
    "sizes_that_some_parts_never_get": Case(
        _line(
            _skip("park_1", "mill"),
            mill={"characteristics": {"bore": {"tolerance": "4 um", "spread": "1 um", "drift": "0.2 um/part"}}},
            wash={"inspection": {"measures": {"bore": {"grr": "10 %", "feedback": {"gain": 0.3}}}}},
        ),
        (What.PART_TYPE, What.READ),
    ),
}
