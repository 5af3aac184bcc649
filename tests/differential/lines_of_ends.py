"""Tiny lines, each with one feature of infeed or outfeed, or a limit of parts inside. Invented data."""

from __future__ import annotations

from linesim.engine.contract.ledger import MachineState
from linesim.engine.contract.trace import What
from tests.differential.lines_of_stations import Case
from tests.helpers.lines import Plain, exponential, loader, serial


def _line(infeed: Plain | None = None, outfeed: Plain | None = None, **rest: object) -> Plain:
    line = serial({"turn": 4, "mill": 3}, [2], **rest)
    return {**line, "infeed": {"stocker": infeed or {}}, "outfeed": {"tray": outfeed or {}}}


_OPERATOR = {"operator": {"people": 1, "response": "2 s"}}
_GANTRY = {"gantry": loader({"stocker": 0, "turn": 1, "park_1": 2, "mill": 3, "tray": 4}, grippers=2)}

ENDS: dict[str, Case] = {
    "a_stock_refilled_by_time": Case(
        _line({"capacity": 3, "refill": {"every": "16 s", "takes": "4 s"}}), (What.STOCK, MachineState.STARVED)
    ),
    "a_stock_refilled_at_a_level_by_a_crew": Case(
        _line({"capacity": 3, "refill": {"at": "1 part", "takes": "9 s", "crew": "operator"}}, crews=_OPERATOR),
        (What.STOCK_CALL, What.CREW, What.STOCK),
    ),
    "blanks_that_arrive": Case(_line({"arrivals": {"every": exponential(6), "batch": 2}}), (MachineState.STARVED,)),
    "blanks_that_arrive_as_machines_are_done": Case(_line({"arrivals": {"every": "4 s"}})),
    "an_outfeed_emptied_by_time": Case(
        _line(outfeed={"capacity": 3, "emptied": {"every": "16 s", "takes": "4 s"}}), (MachineState.BLOCKED,)
    ),
    "one_person_for_both_ends": Case(
        _line(
            {"capacity": 3, "refill": {"at": "1 part", "takes": "4 s", "crew": "operator"}},
            {"capacity": 3, "emptied": {"at": "3 parts", "takes": "4 s", "crew": "operator"}},
            crews=_OPERATOR,
        ),
        (What.STOCK, What.CREW, MachineState.BLOCKED),
    ),
    "parts_in_buffers_at_the_start": Case(
        serial({"turn": 4, "drill": 4, "mill": 3}, [2, 3], filled="70 %")
        | {"infeed": {"stocker": {"arrivals": {"every": exponential(6)}}}}
        | {"buffers": {"park_1": {"capacity": 2, "at_start": "2 parts"}, "park_2": {"capacity": 3, "dwell": "5 s"}}},
        (MachineState.STARVED,),
    ),
    "a_loader_between_limited_ends": Case(
        _line(
            {"capacity": 2, "refill": {"every": "20 s", "takes": "3 s"}},
            {"capacity": 2, "emptied": {"at": "2 parts", "takes": "12 s"}},
            loaders=_GANTRY,
        ),
        (What.TOUR, What.STOCK),
    ),
    "a_limit_of_parts_inside": Case(_line(wip_limit=2)),
    "a_limit_of_parts_inside_with_a_loader": Case(_line(wip_limit=1, loaders=_GANTRY)),
    "a_fixed_round_waits_for_blanks": Case(
        _line(
            {"arrivals": {"every": "30 s"}},
            loaders={
                "gantry": loader(
                    {"stocker": 0, "turn": 1, "park_1": 2, "mill": 3, "tray": 4},
                    next_call={"fixed": ["mill", "park_1", "turn", "stocker"]},
                )
            },
        )
    ),
}
