"""What a line is: frozen dataclasses in seconds, metres and parts; sizes of parts in micrometres. Nothing moves.

Every field has the name of its key in the line file. `reading.py` builds these from plain maps, `checks.py` judges
them, and the engines lay them out as whole numbers. The field metadata tells the reader what quantity a key holds.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from linesim.line.distributions import Constant, Distribution

NO_TIME = Constant(0.0)
LARGEST_SIZE_UM = 1e5  # of any deviation from nominal; far beyond what is meant, and sizes in nm stay whole numbers


def _quantity(kind: str, default: Any = ..., **rules: Any) -> Any:
    """A dataclass field that the line file gives as a quantity of this kind, with the rules it must keep."""
    metadata = {"quantity": kind, **rules}
    return field(metadata=metadata) if default is ... else field(default=default, metadata=metadata)


@dataclass(frozen=True)
class Demand:
    """Good parts wanted a year and the planned hours a year to make them in."""

    volume: float = _quantity("parts_per_year", above=0)
    planned: float = _quantity("hours_per_year", above=0, at_most=8784)


@dataclass(frozen=True)
class Breakdown:
    """One cause of failure of a machine or loader.

    clock: "working" ages only while the owner works; "calendar" ages in any state but stands still while it is down.
    part: what becomes of the part being worked on: "resume", "restart" or "scrap".
    """

    mtbf: Distribution = _quantity("random_duration", plain="exponential", mean_above=0)
    mttr: Distribution = _quantity("random_duration", plain="exponential")
    clock: str = field(default="working", metadata={"one_of": ("working", "calendar")})
    part: str = field(default="resume", metadata={"one_of": ("resume", "restart", "scrap")})
    crew: str | None = field(default=None, metadata={"names": "crews"})


@dataclass(frozen=True)
class Stop:
    """A tool change, dressing, measuring or cleaning: after so many parts or so much time the machine stops for it.

    every, age: a whole number of parts (int) or seconds (float); without `age` the start age is drawn.
    clock: for `every` in time only, as for a breakdown.
    overlaps: "loading" lets the loader serve the machine meanwhile.
    """

    every: int | float = _quantity("parts_or_duration", above=0)
    takes: Distribution = _quantity("random_duration", plain="constant")
    crew: str | None = field(default=None, metadata={"names": "crews"})
    age: int | float | None = _quantity("parts_or_duration", None, at_least=0)
    clock: str = field(default="calendar", metadata={"one_of": ("working", "calendar")})
    overlaps: str | None = field(default=None, metadata={"one_of": ("loading",)})


@dataclass(frozen=True)
class Zone:
    """A zone of a loader that people open: every so often it stands still while they are in there. As for a stop."""

    every: float = _quantity("duration", above=0)
    takes: Distribution = _quantity("random_duration", plain="constant")
    crew: str | None = field(default=None, metadata={"names": "crews"})
    age: float | None = _quantity("duration", None, at_least=0)
    clock: str = field(default="calendar", metadata={"one_of": ("working", "calendar")})


@dataclass(frozen=True)
class Rework:
    """Rejects go back to an earlier place of the route, each part at most so many times."""

    to: str = field(metadata={"names": "route"})
    at_most: int = field(default=1, metadata={"quantity": "count", "at_least": 1})


@dataclass(frozen=True)
class Inspection:
    """What a station that measures finds. What is not reworked goes the way that `rejects` says."""

    catches: float = _quantity("share", 1.0)
    false_alarms: float = _quantity("share", 0.0)
    rejects: str = field(default="scrap", metadata={"one_of": ("scrap",)})
    rework: Rework | None = None


@dataclass(frozen=True)
class Strokes:
    """Work of which each part needs another number of strokes beside the cycle, such as straightening.

    number: strokes that a part needs -> share of the parts; a part that needs more than `at_most` is rejected after so
    many, with a defect of this name.
    """

    number: Mapping[int, float] = field(metadata={"quantity": "share", "keys": "count"})
    takes: Distribution = _quantity("random_duration", plain="constant")
    at_most: int | None = field(default=None, metadata={"quantity": "count", "at_least": 0})
    defect: str = "too_many_strokes"


@dataclass(frozen=True)
class Tolerance:
    """The least and the largest size that is good, as deviations from nominal [um]; a file may give the total."""

    low: float = _quantity("size", at_least=-LARGEST_SIZE_UM, at_most=LARGEST_SIZE_UM)
    high: float = _quantity("size", at_least=-LARGEST_SIZE_UM, at_most=LARGEST_SIZE_UM)

    @property
    def middle(self) -> float:
        return (self.low + self.high) / 2

    @property
    def width(self) -> float:
        return self.high - self.low


@dataclass(frozen=True)
class Characteristic:
    """A size that a station gives each part: offset + step + drift x parts since the tool was new + spread x chance.

    All as deviations from nominal [um], drift [um a part]. after: stop of the station after which its tool is as new
    -> step, by how much sizes then begin beside `offset`.
    """

    tolerance: Tolerance = _quantity("tolerance", above=0, at_most=LARGEST_SIZE_UM)
    spread: float = _quantity("size", at_least=0, at_most=LARGEST_SIZE_UM)
    offset: float = _quantity("size", 0.0, at_least=-LARGEST_SIZE_UM, at_most=LARGEST_SIZE_UM)
    drift: float = _quantity("size_per_part", 0.0, at_least=-1000, at_most=1000)
    after: Mapping[str, float] = field(
        default_factory=dict,
        metadata={"quantity": "size", "at_least": -LARGEST_SIZE_UM, "at_most": LARGEST_SIZE_UM},
    )


@dataclass(frozen=True)
class Station:
    """One step of the route with one or more machines.

    unequal: name of each machine -> the station as it holds for that machine, where the file names them; machines.py
    """

    cycle: Distribution = _quantity("random_duration", plain="constant")
    machines: int = field(default=1, metadata={"quantity": "machines", "at_least": 1})
    unequal: Mapping[str, Station] = field(default_factory=dict, metadata={"read_from": "machines"})
    strokes: Strokes | None = None
    blocking: str = field(default="after_service", metadata={"one_of": ("after_service", "before_service")})
    breakdowns: Mapping[str, Breakdown] = field(default_factory=dict)
    tool_change: Mapping[str, Stop] = field(default_factory=dict)
    dressing: Mapping[str, Stop] = field(default_factory=dict)
    measuring: Mapping[str, Stop] = field(default_factory=dict)
    cleaning: Mapping[str, Stop] = field(default_factory=dict)
    defects: Mapping[str, float] = field(default_factory=dict, metadata={"quantity": "share"})
    characteristics: Mapping[str, Characteristic] = field(default_factory=dict)
    inspection: Inspection | None = None
    planned_cycle: float | None = _quantity("duration", None, above=0)
    power: Mapping[str, float] = field(default_factory=dict, metadata={"quantity": "power", "at_least": 0})  # by state
    call_ahead: float = _quantity("duration", 0.0, at_least=0)  # so long before its planned end a cycle calls a loader
    price: float = _quantity("money", 0.0, at_least=0)


STOP_KINDS = ("tool_change", "dressing", "measuring", "cleaning")


@dataclass(frozen=True)
class Buffer:
    """Places where parts rest between machines, first in, first out; `dwell` is the least time in it."""

    capacity: int = field(metadata={"quantity": "count", "at_least": 0})
    dwell: float = _quantity("duration", 0.0, at_least=0)
    price: float = _quantity("money", 0.0, at_least=0)
    price_per_place: float = _quantity("money", 0.0, at_least=0)


@dataclass(frozen=True)
class EndJob:
    """Refilling an infeed or emptying an outfeed: by time, or when its stock reaches a level; parts pass meanwhile."""

    takes: Distribution = _quantity("random_duration", plain="constant")
    every: float | None = _quantity("duration", None, above=0)
    at: int | None = _quantity("parts", None, at_least=0)
    crew: str | None = field(default=None, metadata={"names": "crews"})


@dataclass(frozen=True)
class Arrivals:
    """Blanks that come by themselves: so many after each interval."""

    every: Distribution = _quantity("random_duration", plain="constant", mean_above=0)
    batch: int = field(default=1, metadata={"quantity": "count", "at_least": 1})


@dataclass(frozen=True)
class Infeed:
    """Where blanks wait for the line: never empty, or a stock that is refilled, or blanks that arrive."""

    capacity: int | None = _quantity("places", None, at_least=1)
    refill: EndJob | None = None
    arrivals: Arrivals | None = None
    price: float = _quantity("money", 0.0, at_least=0)


@dataclass(frozen=True)
class Outfeed:
    """Where finished parts leave the line: never full, or a stock that is emptied."""

    capacity: int | None = _quantity("places", None, at_least=1)
    emptied: EndJob | None = None
    price: float = _quantity("money", 0.0, at_least=0)


@dataclass(frozen=True)
class LoaderStop:
    """Where a loader serves a place: one position for each machine, and handling times that differ there [m], [s].

    The file may give just the position (`3 m`), a list of them, or a map with `at`.
    """

    at: tuple[float, ...] = _quantity("positions")
    pick: float | None = _quantity("duration", None, at_least=0)
    place: float | None = _quantity("duration", None, at_least=0)
    load: float | None = _quantity("duration", None, at_least=0)
    unload: float | None = _quantity("duration", None, at_least=0)
    exchange: float | None = _quantity("duration", None, at_least=0)


CALL_RULES = ("downstream_first", "longest_waiting", "nearest")


@dataclass(frozen=True)
class NextCall:
    """How a free loader chooses: a rule by name, a list of places in order of priority, or a fixed round of places."""

    rule: str = "downstream_first"  # one of CALL_RULES, "priority" or "fixed"
    places: tuple[str, ...] = ()  # for "priority" and "fixed"


@dataclass(frozen=True)
class Loader:
    """A gantry loader with one carriage on a straight rail.

    pick, place: handling at infeed, buffer and outfeed; load, unload: into an empty and out of a machine; exchange:
    finished part out and next one in, needs two grippers [s].
    """

    stops: Mapping[str, LoaderStop] = field(metadata={"key_names": "route"})
    speed: float = _quantity("speed", above=0)
    acceleration: float = _quantity("acceleration", above=0)
    pick: float = _quantity("duration", at_least=0)
    place: float = _quantity("duration", at_least=0)
    load: float | None = _quantity("duration", None, at_least=0)  # default: exchange
    unload: float | None = _quantity("duration", None, at_least=0)  # default: exchange
    exchange: float | None = _quantity("duration", None, at_least=0)  # needed wherever a machine is served
    grippers: int = field(default=1, metadata={"quantity": "count", "at_least": 1, "at_most": 2})
    exchanges_per_tour: int = field(default=1, metadata={"quantity": "count", "at_least": 1})
    next_call: NextCall = field(default=NextCall(), metadata={"quantity": "next_call"})
    park_at: str | None = field(default=None, metadata={"names": "stops"})
    breakdowns: Mapping[str, Breakdown] = field(default_factory=dict)
    zone: Mapping[str, Zone] = field(default_factory=dict)
    power: Mapping[str, float] = field(default_factory=dict, metadata={"quantity": "power", "at_least": 0})  # by state
    price: float = _quantity("money", 0.0, at_least=0)


@dataclass(frozen=True)
class Crew:
    """People who answer calls: repairs and stops. `paid` is the share of their time that the line pays for."""

    people: int = field(default=1, metadata={"quantity": "count", "at_least": 1})
    response: Distribution = _quantity("random_duration", NO_TIME, plain="constant")
    paid: float = _quantity("share", 1.0)


@dataclass(frozen=True)
class Money:
    """What the cost sheet needs; a year's rent is for a square metre, and `energy` counts where no `power` is given."""

    currency: str = "EUR"
    installation: float = _quantity("share", 0.0)
    life: float = _quantity("years", 8.0, above=0)
    interest: float = _quantity("share", 0.0)
    upkeep: float = _quantity("share", 0.0)
    floor: float = _quantity("area", 0.0, at_least=0)
    rent: float = _quantity("money_per_area_year", 0.0, at_least=0)
    wages: float = _quantity("money_per_hour", 0.0, at_least=0)
    electricity: float = _quantity("money_per_energy", 0.0, at_least=0)
    energy: float = _quantity("energy_per_part", 0.0, at_least=0)
    tooling: float = _quantity("money_per_part", 0.0, at_least=0)
    blank: float = _quantity("money_per_part", 0.0, at_least=0)


@dataclass(frozen=True)
class Assumption:
    """How sure one value of the file is: its range, the class of the estimate, its source and who owns it."""

    range: tuple[str, ...] = ()
    kind: str = field(default="estimate", metadata={"key": "class"})
    source: str = ""
    owner: str = ""


@dataclass(frozen=True)
class Line:
    """A whole line. `route` names the places in the order a part visits them; each name stands there once."""

    route: tuple[str, ...]
    stations: Mapping[str, Station]
    name: str = "line"
    demand: Demand | None = None
    infeed: Mapping[str, Infeed] = field(default_factory=dict)
    outfeed: Mapping[str, Outfeed] = field(default_factory=dict)
    wip_limit: int | None = _quantity("places", None, at_least=1)
    buffers: Mapping[str, Buffer] = field(default_factory=dict)
    loaders: Mapping[str, Loader] = field(default_factory=dict)
    crews: Mapping[str, Crew] = field(default_factory=dict)
    money: Money | None = None
    assumptions: Mapping[str, Assumption] = field(default_factory=dict)
