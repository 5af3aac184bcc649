"""Tiny lines of machines that hold several parts; whole seconds, so that much coincides. Invented data."""

from __future__ import annotations

from linesim.engine.contract.ledger import MachineState
from linesim.engine.contract.trace import What
from tests.differential.lines_of_stations import Case
from tests.helpers.lines import Plain, alone, breakdown, exponential, loader, seconds, serial


def _furnace(size: int, cycle_s: float = 12, **keys: object) -> Plain:
    batch = {key: keys.pop(key) for key in ("at_least", "wait_at_most") if key in keys}
    return {"cycle": seconds(cycle_s), "batch": {"size": f"{size} parts"} | batch, **keys}


def _feed(**keys: object) -> Plain:
    return {"through_feed": {"pitch": "4 s", "transit": "10 s"}, **keys}


_CELL = {"stocker": 0, "turn": 2, "mill": [4, 5], "tray": 7}

BATCHES: dict[str, Case] = {
    "two_spindles": Case(alone(_furnace(2)), (What.START, MachineState.WORKING)),
    "a_batch_between_two_stations": Case(serial({"a": 3, "b": _furnace(4), "c": 4}, [2, 1]), (MachineState.BLOCKED,)),
    "a_batch_that_waits": Case(
        serial({"a": exponential(5), "b": _furnace(4, at_least="2 parts", wait_at_most="9 s"), "c": 2}),
        (MachineState.STARVED,),
    ),
    "batches_of_two_machines_without_ends": Case(
        {
            **serial({"a": 2, "b": _furnace(3, machines=2, wait_at_most="0 s")}),
            "route": ["a", "b"],
            "infeed": {},
            "outfeed": {},
        },
    ),
    "batches_break_and_stop": Case(
        serial(
            {
                "a": 3,
                "b": _furnace(
                    3,
                    breakdowns={"jam": breakdown(31, 6, part="scrap"), "trip": breakdown(17, 3, part="restart")},
                    tool_change={"tool": {"every": "4 parts", "takes": "5 s", "start_up_scrap": "2 parts"}},
                    defects={"crack": "20 %"},
                    inspection={"catches": "50 %", "false_alarms": "10 %"},
                ),
            }
        ),
        (What.FAIL, What.STOP, What.SCRAP),
    ),
} | {
    f"batches_served_by_{grippers}_grippers": Case(
        serial(
            {"turn": 4, "mill": _furnace(3, machines=2, wait_at_most="20 s")},
            loaders={"gantry": loader(_CELL, grippers=grippers)},
        ),
        (MachineState.LOADING, MachineState.WAITING_LOADER),
    )
    for grippers in (1, 2)
}

FEEDS: dict[str, Case] = {
    "a_through_feed": Case(serial({"a": 3, "b": _feed(), "c": 5}, [1, 2]), (MachineState.BLOCKED,)),
    "through_feeds_side_by_side_without_ends": Case(
        {**serial({"a": 2, "b": _feed(machines=2)}), "route": ["a", "b"], "infeed": {}, "outfeed": {}}
    ),
    "a_through_feed_breaks_and_stops": Case(
        serial(
            {
                "a": exponential(3),
                "b": _feed(
                    breakdowns={"jam": breakdown(31, 6, part="scrap"), "trip": breakdown(17, 3)},
                    cleaning={"wash": {"every": "60 s", "takes": "5 s", "start_up_scrap": "2 parts"}},
                    defects={"stain": "20 %"},
                    inspection={"catches": "50 %", "false_alarms": "10 %"},
                ),
                "c": exponential(4),
            }
        ),
        (What.FAIL, What.STOP, What.SCRAP),
    ),
    "parts_stay_too_long": Case(
        serial(
            {
                "a": _feed(overstay="2 s"),
                "b": {"cycle": "6 s", "overstay": "1 s", "breakdowns": {"jam": breakdown(20, 3)}},
                "c": _furnace(2, overstay="5 s", breakdowns={"jam": breakdown(17, 9)}),
            }
        ),
        (What.SCRAP,),
    ),
    "a_through_feed_served_on_both_sides": Case(
        alone(_feed(), loaders={"gantry": loader({"stocker": 0, "mill": 1, "tray": 2}, grippers=2)}),
        (MachineState.LOADING, MachineState.WAITING_LOADER),
    ),
}
