"""The ledger: what one replication leaves behind, always. Times are whole microseconds since the start of the run.

The measured window is [warmup_us, horizon_us): what ends exactly at the horizon does not belong to it. Tallies are
those of the window alone; `departures`, `sizes`, `readings`, `windows` and `spells` cover the warm-up too, to be shown.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import IntEnum
from functools import cached_property
from typing import NamedTuple

import numpy as np
import pandas as pd

US = 1_000_000  # microseconds in a second
HOUR_US = 3600 * US


def to_us(seconds: float) -> int:
    """Whole microseconds, rounded once."""
    return math.floor(seconds * US + 0.5)


class MachineState(IntEnum):
    """States of a machine, exactly one at any instant; the first that applies, from the top."""

    OFF_SHIFT = 0
    PLANNED_STOP = 1
    WAITING_REPAIR = 2
    UNDER_REPAIR = 3
    WAITING_SETTER = 4
    TOOL_CHANGE = 5
    DRESSING = 6
    CHANGEOVER = 7
    MEASURING_STOP = 8
    CLEANING = 9
    WORKING = 10
    LOADING = 11
    WAITING_LOADER = 12
    WAITING_OPERATOR = 13
    BLOCKED = 14
    STARVED = 15


class CarriageState(IntEnum):
    """States of a loader's carriage; the first that applies, from the top."""

    OFF_SHIFT = 0
    WAITING_REPAIR = 1
    UNDER_REPAIR = 2
    MOVING_EMPTY = 3
    MOVING_LOADED = 4
    HANDLING = 5
    WAITING_AT_MACHINE = 6
    WAITING_FOR_WAY = 7
    ZONE_OPEN = 8
    IDLE = 9


class Fate(IntEnum):
    """How a part left: as good (escaped bad ones too), scrapped, or as a sample in a drawer."""

    GOOD = 0
    SCRAPPED = 1
    SAMPLED = 2


DEPARTURE_COLUMNS = (
    "time_us",
    "part",
    "entered_us",
    "fate",
    "defect",
    "charged_to",
    "reworks",
    "part_type",
    "lost_at",
)
WINDOW_COLUMNS = ("end_us", "wip_us", "inside")
SIZE_COLUMNS = ("time_us", "part", "machine", "characteristic", "size_nm", "set_to_nm")
READING_COLUMNS = ("time_us", "part", "gauge", "characteristic", "machine", "size_nm", "reading_nm", "moved_pm")
SPELL_COLUMNS = ("owner", "from_us", "to_us")


@dataclass(frozen=True)
class Owner:
    """A thing with a name in trace and ledger; its number is its index in `Ledger.owners`.

    kind: "infeed", "machine", "buffer", "outfeed", "chute", "drawer", "carriage" or "crew"; group: the station, loader
    or place it is of.
    """

    name: str
    kind: str
    group: str


class StationCounts(NamedTuple):
    """Of one station: processed (parts whose operations ended), scrapped and reworked (rejects charged to it, scrap at
    a breakdown included), false_alarms (charged to the one that inspected; contained in the two before), skipped
    (samples that were not taken, since the drawer was full).
    """

    station: str
    processed: int
    scrapped: int
    reworked: int
    false_alarms: int
    skipped: int


class MachineCounts(NamedTuple):
    """Of one machine: parts whose operations ended."""

    machine: str
    station: str
    processed: int


class EndCounts(NamedTuple):
    """Of an infeed or outfeed with a limited stock, or a drawer: capacity (0: none, parts arrive), stock_us (integral
    of the parts in it [part us])."""

    end: str
    kind: str
    capacity: int
    stock_us: int
    empty_us: int
    full_us: int


class StoppageCounts(NamedTuple):
    """Of a cause of breakdown or stop, kind "breakdown", "tool_change", ..., "changeover", "zone": waiting_us
    and lasting_us (time waiting for the crew, and time it lasted; both while it was its owner's state).
    """

    owner: str
    name: str
    kind: str
    begun: int
    waiting_us: int
    lasting_us: int


class CrewCounts(NamedTuple):
    """Of one crew: duty_us and busy_us (person-microseconds on duty, and from taking a call to its end, after the shift
    too), all_busy_us (everybody on duty is busy), calls_waited (not taken in the instant of the call).
    """

    crew: str
    people: int
    duty_us: int
    busy_us: int
    all_busy_us: int
    calls: int
    calls_waited: int
    waited_us: int


@dataclass(frozen=True)
class Ledger:
    """The books of one replication.

    planned: int64, shape (n, 2): from, to [us] of each stretch of the run in which the line is planned to work: in one
        of its shifts and in no break or planned stop; one stretch if it has none of these.
    owners: every place in route order, then chutes and drawers, then carriages, then crews. "turn.1" is the first
        machine of station turn unless the file names its machines, "gantry.1" the carriage of loader gantry,
        "hands_of_gauge.1" stands for people who load gauge by hand; all others go by their own name. A route without
        infeed or outfeed has unnamed ones ("" as name).
    states: owner name -> time in each state [us], shape (16,) for machines, (10,) for carriages; sums to the window.
    departures: int64, a row a part that left, in order, columns DEPARTURE_COLUMNS. `defect` is the index in `defects`
        or -1; `charged_to` the index in `stations` of the station charged with a scrapped part, or -1; `part_type` the
        index in `part_types`, or -1 where all parts are alike; `lost_at` the index of the station at which a part
        became scrap or a sample, or -1: time_us is when it reaches its chute or drawer, if it goes there.
    entered: parts that left the infeed inside the window. inside_start, inside_end: parts inside at its two edges.
    wip: time with n parts inside [us], index n, sums to the window.
    levels: buffer name -> time with n parts in it [us], index n, shape (capacity + 1,).
    windows: int64, a row an output window from time 0 on, columns WINDOW_COLUMNS: end of the window, integral of WIP
        over it [part us], parts inside at its end. The last may be cut by the horizon; one may be cut at warmup_us.
    of_stations, of_machines, of_ends, of_stoppages, of_crews: a row each; without `of_` the same rows as a DataFrame,
        made when it is asked for: that takes longer than all else in the books of a short run.
    part_types: their names.
    characteristics: (station, name) of every size that parts get.
    sizes: int64, a row a size that was made, in order, columns SIZE_COLUMNS: number of the machine in `owners`, index
        in `characteristics`, deviation from nominal, and what the machine was set to: the same without chance.
    readings: int64, a row a size that was measured, in order, columns READING_COLUMNS: numbers in `owners` of the
        machine that measured and of the one that made the size; the size, what was read, and by how much that moved
        what the machine makes from its next part on.
    spells: int64, columns SPELL_COLUMNS, in order of their ends: unbroken times for which an owner was active, that is
        not waiting for others (see `ACTIVE_*` in states.py); a crew is active while all on duty are busy. A spell
        that lies inside one that ends later is left out: it is never the longest running one.
    visits: operations ended in the whole run, warm-up included (for speed figures); events: timers ended likewise.
    """

    seed: int
    replication: int
    warmup_us: int
    horizon_us: int
    window_us: int
    planned: np.ndarray
    owners: tuple[Owner, ...]
    states: dict[str, np.ndarray]
    departures: np.ndarray
    entered: int
    inside_start: int
    inside_end: int
    wip: np.ndarray
    levels: dict[str, np.ndarray]
    windows: np.ndarray
    of_stations: tuple[StationCounts, ...]
    of_machines: tuple[MachineCounts, ...]
    of_ends: tuple[EndCounts, ...]
    of_stoppages: tuple[StoppageCounts, ...]
    of_crews: tuple[CrewCounts, ...]
    defects: tuple[tuple[str, str], ...]  # (station, name)
    part_types: tuple[str, ...]
    characteristics: tuple[tuple[str, str], ...]
    sizes: np.ndarray
    readings: np.ndarray
    spells: np.ndarray
    visits: int
    events: int

    @property
    def measured_us(self) -> int:
        return self.horizon_us - self.warmup_us

    @cached_property
    def stations(self) -> pd.DataFrame:
        return pd.DataFrame(self.of_stations, columns=StationCounts._fields)

    @cached_property
    def machines(self) -> pd.DataFrame:
        return pd.DataFrame(self.of_machines, columns=MachineCounts._fields)

    @cached_property
    def ends(self) -> pd.DataFrame:
        return pd.DataFrame(self.of_ends, columns=EndCounts._fields)

    @cached_property
    def stoppages(self) -> pd.DataFrame:
        return pd.DataFrame(self.of_stoppages, columns=StoppageCounts._fields)

    @cached_property
    def crews(self) -> pd.DataFrame:
        return pd.DataFrame(self.of_crews, columns=CrewCounts._fields)
