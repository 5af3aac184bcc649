"""What a line is: frozen dataclasses in seconds, metres and parts; sizes of parts in micrometres. Nothing moves.

Every field has the name of its key in the line file. `reading.py` builds these from plain maps, `checks.py` judges
them, and the engines lay them out as whole numbers. The field metadata tells the reader what quantity a key holds.
What belongs to a station stands in model_stations.py.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from linesim.line.distributions import Constant, Distribution
from linesim.line.fields import quantity
from linesim.line.model_stations import (
    OVERSTAY as OVERSTAY,
)
from linesim.line.model_stations import (
    PRIORITIES as PRIORITIES,
)
from linesim.line.model_stations import (
    STOP_KINDS as STOP_KINDS,
)
from linesim.line.model_stations import (
    Batch as Batch,
)
from linesim.line.model_stations import (
    Breakage as Breakage,
)
from linesim.line.model_stations import (
    Breakdown as Breakdown,
)
from linesim.line.model_stations import (
    ByHand as ByHand,
)
from linesim.line.model_stations import (
    Called as Called,
)
from linesim.line.model_stations import (
    Changeover as Changeover,
)
from linesim.line.model_stations import (
    Characteristic as Characteristic,
)
from linesim.line.model_stations import (
    ColdStart as ColdStart,
)
from linesim.line.model_stations import (
    Feedback as Feedback,
)
from linesim.line.model_stations import (
    Gauge as Gauge,
)
from linesim.line.model_stations import (
    Inspection as Inspection,
)
from linesim.line.model_stations import (
    Life as Life,
)
from linesim.line.model_stations import (
    OnFloor as OnFloor,
)
from linesim.line.model_stations import (
    Rework as Rework,
)
from linesim.line.model_stations import (
    Sample as Sample,
)
from linesim.line.model_stations import (
    Samples as Samples,
)
from linesim.line.model_stations import (
    Station as Station,
)
from linesim.line.model_stations import (
    Stop as Stop,
)
from linesim.line.model_stations import (
    Strokes as Strokes,
)
from linesim.line.model_stations import (
    ThroughFeed as ThroughFeed,
)
from linesim.line.model_stations import (
    Tolerance as Tolerance,
)
from linesim.line.model_stations import (
    Zone as Zone,
)

NO_TIME = Constant(0.0)


@dataclass(frozen=True)
class Demand:
    """Good parts wanted a year, and the time to make them in: planned hours a year, or weeks a year of the shifts."""

    volume: float = quantity("parts_per_year", above=0)
    planned: float | None = quantity("hours_per_year", None, above=0, at_most=8784)
    weeks: float | None = quantity("number", None, above=0, at_most=53)  # with shifts; default: WEEKS_A_YEAR


WEEKS_A_YEAR = 52.0


@dataclass(frozen=True)
class Break:
    """A break of a shift: a time of day [s since midnight] and how long it takes [s]."""

    at: float = quantity("time_of_day")
    takes: float = quantity("duration", above=0, at_most=86_400)


@dataclass(frozen=True)
class Shift:
    """A shift of the week. days: Monday 0; from, to: times of day [s]; one that does not end after it begins passes
    midnight, and belongs to the day on which it begins."""

    days: tuple[int, ...] = field(metadata={"quantity": "days"})
    begin: float = field(metadata={"quantity": "time_of_day", "key": "from"})
    end: float = field(metadata={"quantity": "time_of_day", "key": "to"})
    breaks: Mapping[str, Break] = field(default_factory=dict)


@dataclass(frozen=True)
class PlannedStop:
    """The whole line stands on these days from this time of day on, for so long [s]."""

    days: tuple[int, ...] = field(metadata={"quantity": "days"})
    at: float = quantity("time_of_day")
    takes: float = quantity("duration", above=0, at_most=604_800)


@dataclass(frozen=True)
class Buffer(OnFloor):
    """Places where parts rest between machines, first in, first out; `dwell` is the least time in it.

    at_start: parts in it when a run begins; None: the line's share.
    """

    capacity: int = quantity("parts", at_least=0)
    dwell: float = quantity("duration", 0.0, at_least=0)
    at_start: int | None = quantity("parts", None, at_least=0)
    price: float = quantity("money", 0.0, at_least=0)
    price_per_place: float = quantity("money", 0.0, at_least=0)


@dataclass(frozen=True)
class EndJob(Called):
    """Refilling an infeed, emptying an outfeed or a drawer: by time, or when its stock reaches a level."""

    takes: Distribution = quantity("random_duration", plain="constant")
    every: float | None = quantity("duration", None, above=0)
    at: int | None = quantity("parts", None, at_least=0)


@dataclass(frozen=True)
class Arrivals:
    """Blanks that come by themselves: so many after each interval."""

    every: Distribution = quantity("random_duration", plain="constant", mean_above=0)
    batch: int = quantity("parts", 1, at_least=1)


@dataclass(frozen=True)
class Infeed(OnFloor):
    """Where blanks wait for the line: never empty, or a stock that is refilled, or blanks that arrive."""

    capacity: int | None = quantity("parts", None, at_least=1)
    refill: EndJob | None = None
    arrivals: Arrivals | None = None
    price: float = quantity("money", 0.0, at_least=0)


@dataclass(frozen=True)
class Outfeed(OnFloor):
    """Where finished parts leave the line: never full, or a stock that is emptied."""

    capacity: int | None = quantity("parts", None, at_least=1)
    emptied: EndJob | None = None
    price: float = quantity("money", 0.0, at_least=0)


@dataclass(frozen=True)
class Drawer(OnFloor):
    """Where a loader puts samples for people to fetch: so many places, and how it is emptied."""

    capacity: int = field(metadata={"quantity": "parts", "at_least": 1})
    emptied: EndJob = EndJob(takes=NO_TIME)  # not sound as it is: the file must say how often
    price: float = quantity("money", 0.0, at_least=0)


@dataclass(frozen=True)
class LoaderStop:
    """Where a loader serves a place: one position for each machine, and handling times that differ there [m], [s].

    The file may give just the position (`3 m`), a list of them, or a map with `at`.
    """

    at: tuple[float, ...] = quantity("positions")
    pick: float | None = quantity("duration", None, at_least=0)
    place: float | None = quantity("duration", None, at_least=0)
    load: float | None = quantity("duration", None, at_least=0)
    unload: float | None = quantity("duration", None, at_least=0)
    exchange: float | None = quantity("duration", None, at_least=0)


CALL_RULES = ("downstream_first", "longest_waiting", "nearest")


@dataclass(frozen=True)
class NextCall:
    """How a free loader chooses: a rule by name, a list of places in order of priority, or a fixed round of places."""

    rule: str = "downstream_first"  # one of CALL_RULES, "priority" or "fixed"
    places: tuple[str, ...] = ()  # for "priority" and "fixed"


@dataclass(frozen=True)
class Loader:
    """A gantry loader on a straight rail, with one carriage, or several that stay at least `apart` [m] from each other.

    carriages: name of each -> the loader as it holds for that carriage, with its own stops; in their order on the rail.
    pick, place: handling at infeed, buffer and outfeed; load, unload: into an empty and out of a machine; exchange:
    finished part out and next one in, needs two grippers [s].
    """

    stops: Mapping[str, LoaderStop] = field(metadata={"key_names": "stoppable"})
    speed: float = quantity("speed", above=0)
    acceleration: float = quantity("acceleration", above=0)
    pick: float = quantity("duration", at_least=0)
    place: float = quantity("duration", at_least=0)
    load: float | None = quantity("duration", None, at_least=0)  # default: exchange
    unload: float | None = quantity("duration", None, at_least=0)  # default: exchange
    exchange: float | None = quantity("duration", None, at_least=0)  # needed wherever a machine is served
    grippers: int = field(default=1, metadata={"quantity": "count", "at_least": 1, "at_most": 2})
    exchanges_per_tour: int = field(default=1, metadata={"quantity": "count", "at_least": 1})
    next_call: NextCall = field(default=NextCall(), metadata={"quantity": "next_call"})
    park_at: str | None = field(default=None, metadata={"names": "stops"})
    breakdowns: Mapping[str, Breakdown] = field(default_factory=dict)
    zone: Mapping[str, Zone] = field(default_factory=dict)
    carriages: Mapping[str, Loader] = field(default_factory=dict, metadata={"laid_over": True})
    apart: float | None = quantity("length", None, above=0)
    power: Mapping[str, float] = field(default_factory=dict, metadata={"quantity": "power", "at_least": 0})  # by state
    shifts: tuple[str, ...] = field(default=(), metadata={"names": "shifts"})  # empty: all of the line's
    through_breaks: bool = field(default=False, metadata={"quantity": "flag"})
    price: float = quantity("money", 0.0, at_least=0)


@dataclass(frozen=True)
class Crew:
    """People who answer calls: repairs and stops. `paid` is the share of their time that the line pays for.

    people: how many, or how many in each shift; then the crew works in the shifts named there.
    """

    people: int | Mapping[str, int] = field(default=1, metadata={"quantity": "people"})
    response: Distribution = quantity("random_duration", NO_TIME, plain="constant")
    shifts: tuple[str, ...] = field(default=(), metadata={"names": "shifts"})  # empty: all of the line's
    paid: float = quantity("share", 1.0)

    @property
    def most_people(self) -> int:
        """How many there are at the most at one time."""
        return self.people if isinstance(self.people, int) else max(self.people.values(), default=0)

    @property
    def works_in(self) -> tuple[str, ...]:
        """The shifts it works in; empty: all of the line's."""
        return self.shifts if isinstance(self.people, int) else tuple(self.people)


@dataclass(frozen=True)
class Money:
    """What the cost sheet needs; a year's rent is for a square metre, and `energy` counts where no `power` is given."""

    currency: str = "EUR"
    installation: float = quantity("share", 0.0)
    life: float = quantity("years", 8.0, above=0)
    interest: float = quantity("share", 0.0)
    upkeep: float = quantity("share", 0.0)
    floor: float = quantity("area", 0.0, at_least=0)
    rent: float = quantity("money_per_area_year", 0.0, at_least=0)
    wages: float = quantity("money_per_hour", 0.0, at_least=0)
    electricity: float = quantity("money_per_energy", 0.0, at_least=0)
    energy: float = quantity("energy_per_part", 0.0, at_least=0)
    tooling: float = quantity("money_per_part", 0.0, at_least=0)
    blank: float = quantity("money_per_part", 0.0, at_least=0)


@dataclass(frozen=True)
class Assumption:
    """How sure one value of the file is: its range, the class of the estimate, its source and who owns it."""

    range: tuple[str, ...] = ()
    kind: str = field(default="estimate", metadata={"key": "class"})
    source: str = ""
    owner: str = ""


@dataclass(frozen=True)
class PartType:
    """A kind of part; its share of what enters, unless orders say what comes when, and the places it leaves out."""

    share: float | None = quantity("share", None)
    skips: tuple[str, ...] = field(default=(), metadata={"names": "route", "or_one": True, "or_none": True})


@dataclass(frozen=True)
class Order:
    """So many parts of one type in a row."""

    part: str = field(metadata={"names": "parts"})
    size: int = quantity("parts", at_least=1)


@dataclass(frozen=True)
class Line:
    """A whole line. `route` names the places in the order a part visits them; each name stands there once."""

    route: tuple[str, ...]
    stations: Mapping[str, Station]
    name: str = "line"
    demand: Demand | None = None
    infeed: Mapping[str, Infeed] = field(default_factory=dict)
    outfeed: Mapping[str, Outfeed] = field(default_factory=dict)
    wip_limit: int | None = quantity("parts", None, at_least=1)
    filled: float = quantity("share", 0.0)  # of the places of each buffer, when a run begins
    parts: Mapping[str, PartType] = field(default_factory=dict)  # empty: all parts are alike
    orders: tuple[Order, ...] = ()  # one after the other, then from the first again
    buffers: Mapping[str, Buffer] = field(default_factory=dict)
    loaders: Mapping[str, Loader] = field(default_factory=dict)
    drawers: Mapping[str, Drawer] = field(default_factory=dict)
    crews: Mapping[str, Crew] = field(default_factory=dict)
    shifts: Mapping[str, Shift] = field(default_factory=dict)  # empty: the line runs through
    planned_stops: Mapping[str, PlannedStop] = field(default_factory=dict)
    money: Money | None = None
    assumptions: Mapping[str, Assumption] = field(default_factory=dict)
