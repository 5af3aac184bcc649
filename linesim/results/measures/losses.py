"""The loss bridge: from what the pace stage could make to the good parts of the line, in parts, without a rest."""

from __future__ import annotations

import numpy as np
import pandas as pd

from linesim.engine.contract.ledger import HOUR_US, US, Fate, Ledger, MachineState
from linesim.line.model import Line
from linesim.line.ways import comes_to
from linesim.results.measures.output import count_left, left
from linesim.results.measures.planned import of_station_us, planned_of_machine_us, planned_us, ratio

PART_TYPE, LOST_AT = 7, 8  # columns of departures
MAKING = (MachineState.WORKING, MachineState.LOADING)
UNPLANNED = (MachineState.OFF_SHIFT, MachineState.PLANNED_STOP)  # no loss: not in planned time
LOST_STATES = [state for state in MachineState if state not in (*MAKING, *UNPLANNED)]


def loss_bridge(ledger: Ledger, line: Line, stage: str, cycle_and_load_s: float) -> pd.DataFrame:
    """A row a step, in order: stage, step, parts, parts_per_h. `gross` less all that follows is `good`, the last row.

    gross: planned time of the stage's machines over cycle and load time. Then the time in each other state over that.
    speed: working and loading time beyond (below 0: less than) that of the parts made. scrap: parts scrapped after they
    were made here. samples: those that went to a drawer likewise. rework: parts that were sent back from behind this
    stage to before it. growth: parts that stand behind the stage at the end beyond those at the start. passing: below
    0, good parts whose type skips the stage; only where there is such a type.
    """
    states_us = of_station_us(ledger, stage)
    part_us = cycle_and_load_s * US
    made = next(station.processed for station in ledger.of_stations if station.station == stage)
    good, scrap, samples, rework = (
        count_left(ledger, Fate.GOOD),
        lost_behind(ledger, line, stage, Fate.SCRAPPED),
        lost_behind(ledger, line, stage, Fate.SAMPLED),
        sent_back(ledger, line, stage),
    )
    steps = {"gross": planned_of_machine_us(states_us) / part_us}
    steps |= {state.name.lower(): int(states_us[state]) / part_us for state in LOST_STATES}
    steps["speed"] = int(sum(states_us[state] for state in MAKING)) / part_us - made
    passing = sum(not _comes(line, row, stage) for row in left(ledger, Fate.GOOD))
    steps |= {"scrap": scrap, "samples": samples, "rework": rework}
    steps["growth"] = made - scrap - samples - rework - (good - passing)
    if _is_skipped(line, stage):
        steps["passing"] = -passing
    steps["good"] = good
    hours = planned_us(ledger) / HOUR_US
    rows = [(stage, step, float(parts), ratio(parts, hours)) for step, parts in steps.items()]
    return pd.DataFrame(rows, columns=["stage", "step", "parts", "parts_per_h"])


def lost_behind(ledger: Ledger, line: Line, stage: str, fate: Fate) -> int:
    """Parts that became scrap, or samples, at the stage or behind it, whoever is charged with them; none whose type
    skips it."""
    behind = set(line.route[line.route.index(stage) :])
    where = [name in behind for name, *_ in ledger.of_stations]
    return sum(where[row[LOST_AT]] and _comes(line, row, stage) for row in left(ledger, fate))


def _is_skipped(line: Line, stage: str) -> bool:
    return any(stage in part.skips for part in line.parts.values())


def _comes(line: Line, departure: np.ndarray, stage: str) -> bool:
    """Whether a part that left is of a type that comes to a station."""
    return comes_to(line, _part_type(line, departure), stage)


def _part_type(line: Line, departure: np.ndarray) -> str | None:
    number = int(departure[PART_TYPE])
    return list(line.parts)[number] if number >= 0 else None


def sent_back(ledger: Ledger, line: Line, stage: str) -> int:
    """Parts sent from the stage or behind it to a place that brings them through it again.

    The ledger has one count for all rework loops and part types; where some go round the stage and some don't it can't
    be told, and 0 is given: growth then holds the parts made twice too.
    """
    loops = [
        (line.route.index(station.inspection.rework.to), line.route.index(name))
        for name, station in line.stations.items()
        if station.inspection and station.inspection.rework
    ]
    at = line.route.index(stage)
    through = [start <= at <= end for start, end in loops]
    told = bool(through) and all(through) and not _is_skipped(line, stage)
    return sum(station.reworked for station in ledger.of_stations) if told else 0
