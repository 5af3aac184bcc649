"""What a station is: its machines with their breakdowns and stops, and what it does to the quality of parts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from linesim.line.distributions import Distribution
from linesim.line.fields import quantity

MOST_TOGETHER = 1000  # parts in one machine
LARGEST_SIZE_UM = 1e5  # of any deviation from nominal; far beyond what is meant, and sizes in nm stay whole numbers


PRIORITIES = ("high", "normal", "low")


@dataclass(frozen=True, kw_only=True)
class OnFloor:
    """What takes floor, for drawings only. size: along the rail and across it [m]; side of its loader's rail: one for
    all machines of a place, or one for each; floor_words.py."""

    size: tuple[float, float] | None = quantity("floor_size", None)
    side: tuple[str, ...] = quantity("sides", ())


@dataclass(frozen=True, kw_only=True)
class Called:
    """What people are called for: the crews that may do it, the preferred one first, and how many of one crew it takes.

    Without a crew nobody is needed. priority: calls of a higher one are taken first.
    """

    crew: tuple[str, ...] = field(default=(), metadata={"names": "crews", "or_one": True})
    people: int = field(default=1, metadata={"quantity": "count", "at_least": 1})
    priority: str = field(default="normal", metadata={"one_of": PRIORITIES})


@dataclass(frozen=True)
class Breakdown(Called):
    """One cause of failure of a machine or loader.

    clock: "working" ages only while the owner works; "calendar" ages in any state but stands still while it is down.
    part: what becomes of the part being worked on: "resume", "restart" or "scrap".
    """

    mtbf: Distribution = quantity("random_duration", plain="exponential", mean_above=0)
    mttr: Distribution = quantity("random_duration", plain="exponential")
    clock: str = field(default="working", metadata={"one_of": ("working", "calendar")})
    part: str = field(default="resume", metadata={"one_of": ("resume", "restart", "scrap")})


@dataclass(frozen=True)
class Life:
    """How long a tool lasts, in parts or in seconds of working time."""

    law: Distribution
    in_parts: bool


@dataclass(frozen=True)
class Breakage:
    """The change after a tool broke; what is not given is as for the planned change."""

    takes: Distribution = quantity("random_duration", plain="constant")
    crew: tuple[str, ...] = field(default=(), metadata={"names": "crews", "or_one": True})
    cost: float | None = quantity("money_each", None, at_least=0)


@dataclass(frozen=True)
class Stop(Called):
    """A tool change, dressing, measuring or cleaning: after so many parts or so much time the machine stops for it.

    every, age: a whole number of parts (int) or dressings (Dressings), or seconds (float); without `age` the start age
    is drawn. clock: for `every` in time only, as for a breakdown.
    overlaps: "loading" lets the loader serve the machine meanwhile. holds: "loader" keeps it busy with this stop alone,
    as with a master part. cost: money for each [currency]. start_up_scrap:
    how many of the parts that the machine makes next are scrapped.
    Of tool changes only: life, when the tool breaks if it is not changed before, and breakage, the change then;
    worn_by: the dressing that counts, where `every` is a number of them.
    """

    takes: Distribution = quantity("random_duration", plain="constant")
    every: int | float | None = quantity("interval", None, above=0)  # needed, but for a tool with a life
    life: Life | None = quantity("life", None)
    breakage: Breakage | None = None
    worn_by: str | None = None
    cost: float = quantity("money_each", 0.0, at_least=0)
    age: int | float | None = quantity("interval", None, at_least=0)
    clock: str = field(default="calendar", metadata={"one_of": ("working", "calendar")})
    overlaps: str | None = field(default=None, metadata={"one_of": ("loading",)})
    holds: str | None = field(default=None, metadata={"one_of": ("loader",)})
    start_up_scrap: int = quantity("parts", 0, at_least=0, at_most=1000)


@dataclass(frozen=True)
class Zone(Called):
    """A zone of a loader that people open: every so often it stands still while they are in there. As for a stop."""

    every: float = quantity("duration", above=0)
    takes: Distribution = quantity("random_duration", plain="constant")
    age: float | None = quantity("duration", None, at_least=0)
    clock: str = field(default="calendar", metadata={"one_of": ("working", "calendar")})


@dataclass(frozen=True)
class ColdStart(Called):
    """After standing off duty for so long [s] a machine warms up; its first parts then are scrapped."""

    after: float = quantity("duration", above=0)
    takes: Distribution = quantity("random_duration", plain="constant")
    scrap: int = quantity("parts", 0, at_least=0)


@dataclass(frozen=True)
class Rework:
    """Rejects go back to an earlier place of the route, each part at most so many times."""

    to: str = field(metadata={"names": "route"})
    at_most: int = field(default=1, metadata={"quantity": "count", "at_least": 1})


@dataclass(frozen=True)
class Sample:
    """Which parts of each machine are measured: all for which one of these holds.

    every: one of so many parts (int), or the first that comes so long after the last one [s]; first_and_last: those
    that the machine made first and last between two stops that renew its tool; after_pause: those that it ended so long
    after the one before [s].
    """

    every: int | float | None = quantity("interval", None, above=0)
    first_and_last: bool = field(default=False, metadata={"quantity": "flag"})
    after_pause: float | None = quantity("duration", None, above=0)


@dataclass(frozen=True)
class Samples:
    """Good parts of each machine that go to a drawer instead of on: all for which one of these holds.

    every: one of so many parts (int), or the first that is ended so long after the last sample [s]; after: stops of the
    station after each of which the first one is a sample; after_pause: those ended so long after the part before [s].
    """

    to: str = field(metadata={"names": "drawers"})
    every: int | float | None = quantity("interval", None, above=0)
    after: tuple[str, ...] = ()
    after_pause: float | None = quantity("duration", None, above=0)


@dataclass(frozen=True)
class Feedback:
    """What a gauge corrects at the machine that made the part: - gain x mean deviation.

    Deviations count from the middle of the tolerance. dead_band: means [um] up to this are left alone; average:
    readings of a machine that make a mean; only_new: parts begun before its last correction, or before its tool was
    renewed, are ignored; outlasts_tools: corrections stay when a tool is renewed, which then is no change either.
    """

    gain: float = quantity("number", above=0, at_most=10)
    dead_band: float = quantity("size", 0.0, at_least=0, at_most=LARGEST_SIZE_UM)
    average: int = quantity("parts", 1, at_least=1, at_most=100)
    only_new: bool = field(default=False, metadata={"quantity": "flag"})
    outlasts_tools: bool = field(default=False, metadata={"quantity": "flag"})


@dataclass(frozen=True)
class Gauge:
    """How a size is measured. grr: 6 standard deviations of what the gauge adds, as a share of the tolerance.

    sample: which parts; without it all.
    """

    grr: float = quantity("share", 0.0)
    sample: Sample | None = None
    feedback: Feedback | None = None


@dataclass(frozen=True)
class Inspection:
    """What a station that measures finds. What is not reworked goes the way that `rejects` says.

    measures: characteristic -> its gauge; a part is rejected if a reading is out of tolerance. catches, false_alarms:
    of all that is not measured here.
    """

    measures: Mapping[str, Gauge] = field(default_factory=dict)
    catches: float = quantity("share", 1.0)
    false_alarms: float = quantity("share", 0.0)
    rejects: str = field(default="scrap", metadata={"one_of": ("scrap",)})
    rework: Rework | None = None


@dataclass(frozen=True)
class Strokes:
    """Work of which each part needs another number of strokes beside the cycle, such as straightening.

    number: strokes that a part needs -> share of the parts; a part that needs more than `at_most` is rejected after so
    many, with a defect of this name.
    """

    number: Mapping[int, float] = field(metadata={"quantity": "share", "keys": "count"})
    takes: Distribution = quantity("random_duration", plain="constant")
    at_most: int | None = field(default=None, metadata={"quantity": "count", "at_least": 0})
    defect: str = "too_many_strokes"


@dataclass(frozen=True)
class Batch:
    """Parts that a machine works on together: `size` of them. With wait_at_most it starts with `at_least` too, so long
    after the first of them came in [s]."""

    size: int = quantity("parts", at_least=2, at_most=MOST_TOGETHER)
    at_least: int | None = quantity("parts", None, at_least=1)
    wait_at_most: float | None = quantity("duration", None, at_least=0)

    @property
    def least(self) -> int:
        """With how many it may start."""
        if self.wait_at_most is None:
            return self.size
        return self.at_least or 1


@dataclass(frozen=True)
class ThroughFeed:
    """Parts pass through one behind the other: a part may enter each `pitch` [s], and is `transit` [s] inside."""

    pitch: float = quantity("duration", above=0)
    transit: float = quantity("duration", above=0, at_most=86_400)

    @property
    def positions(self) -> int:
        """How many parts may be inside at a time."""
        return round(1e6 * self.transit) // max(1, round(1e6 * self.pitch)) + 1


@dataclass(frozen=True)
class Tolerance:
    """The least and the largest size that is good, as deviations from nominal [um]; a file may give the total."""

    low: float = quantity("size", at_least=-LARGEST_SIZE_UM, at_most=LARGEST_SIZE_UM)
    high: float = quantity("size", at_least=-LARGEST_SIZE_UM, at_most=LARGEST_SIZE_UM)

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

    tolerance: Tolerance = quantity("tolerance", above=0, at_most=LARGEST_SIZE_UM)
    spread: float = quantity("size", at_least=0, at_most=LARGEST_SIZE_UM)
    offset: float = quantity("size", 0.0, at_least=-LARGEST_SIZE_UM, at_most=LARGEST_SIZE_UM)
    drift: float = quantity("size_per_part", 0.0, at_least=-1000, at_most=1000)
    after: Mapping[str, float] = field(
        default_factory=dict,
        metadata={"quantity": "size", "at_least": -LARGEST_SIZE_UM, "at_most": LARGEST_SIZE_UM},
    )


@dataclass(frozen=True)
class Changeover(Called):
    """What a machine does before it starts a part of another type. takes: from type to type; none if not named."""

    takes: Mapping[str, Mapping[str, Distribution]] = quantity("from_to")


@dataclass(frozen=True)
class ByHand(Called):
    """Loading by people: who does it, and how long it takes with the way to the neighbours included.

    exchange: finished part out and next one in, in one visit; load: into an empty machine, unload: out of it; both as
    exchange if not given.
    """

    exchange: Distribution = quantity("random_duration", plain="constant", mean_above=0)
    load: Distribution | None = quantity("random_duration", None, plain="constant", mean_above=0)
    unload: Distribution | None = quantity("random_duration", None, plain="constant", mean_above=0)

    @property
    def loads(self) -> Distribution:
        return self.load or self.exchange

    @property
    def unloads(self) -> Distribution:
        return self.unload or self.exchange


@dataclass(frozen=True)
class Station(OnFloor):
    """One step of the route with one or more machines.

    unequal: name of each machine -> the station as it holds for that machine, where the file names them; machines.py
    """

    cycle: Distribution = quantity("random_duration", plain="constant", by_part=True)
    machines: int = field(default=1, metadata={"quantity": "machines", "at_least": 1})
    unequal: Mapping[str, Station] = field(default_factory=dict, metadata={"read_from": "machines"})
    batch: Batch | None = None
    through_feed: ThroughFeed | None = None  # in place of a cycle; its pitch counts as one
    overstay: float | None = quantity("duration", None, at_least=0)  # so much longer inside than planned spoils a part
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
    changeover: Changeover | None = None
    planned_cycle: float | None = quantity("duration", None, above=0)
    power: Mapping[str, float] = field(default_factory=dict, metadata={"quantity": "power", "at_least": 0})  # by state
    chute: str | None = None  # a stop of its loader that scrap is brought to; none: scrap leaves at once
    samples: Samples | None = None
    call_ahead: float = quantity("duration", 0.0, at_least=0)  # so long before its planned end a cycle calls a loader
    cold_start: ColdStart | None = None
    by_hand: ByHand | None = None  # who loads and unloads it where no loader does
    shifts: tuple[str, ...] = field(default=(), metadata={"names": "shifts"})  # empty: all of the line's
    through_breaks: bool = field(default=False, metadata={"quantity": "flag"})
    at_shift_end: str = field(default="finish", metadata={"one_of": ("finish", "pause")})
    price: float = quantity("money", 0.0, at_least=0)


OVERSTAY = "overstay"  # the defect of parts that were inside for too long
STOP_KINDS = ("tool_change", "dressing", "measuring", "cleaning")
