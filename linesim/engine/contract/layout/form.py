"""The form of a laid-out line: the row of numbers, and who stands where in it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from linesim.engine.contract import records as r
from linesim.engine.contract.ledger import Owner
from linesim.line.distributions import Distribution
from linesim.line.model import Line

CHANCE_SCALE = 10**9  # chances are whole numbers of parts per billion
NO_LIMIT = 1 << 40  # parts in the stock of an infeed that is never empty, and room in what is never full
ROWS_KEPT = 8192  # rows of each kind that fit beside those of one decision


@dataclass(frozen=True)
class Stoppage:
    """A breakdown or stop of one owner."""

    record: int
    owner: Owner
    kind: str  # "breakdown", one of STOP_KINDS, "changeover", "zone", "refill" or "emptying"
    name: str
    start_age: int | None  # of a stop, in parts or microseconds; None: drawn

    @property
    def purpose(self) -> str:
        return f"{self.kind}.{self.name}"


@dataclass(frozen=True)
class Stream:
    """A named source of random numbers: durations of a distribution [us]; chances where that is None and sd is 0; else
    normal numbers around 0 with that standard deviation, rounded."""

    owner: str
    purpose: str
    distribution: Distribution | None
    sd: float = 0.0


@dataclass
class Layout:
    """A line as the engines see it; addresses are those of `records`.

    floor: the row at time 0, but for the zeros behind it: room for rows that leave the floor.
    """

    line: Line
    floor: list[int] = field(default_factory=lambda: [0] * r.HEADER_SIZE)
    behind: int = 0  # how many zeros
    owners: list[Owner] = field(default_factory=list)
    machines: dict[int, tuple[str, str]] = field(default_factory=dict)  # record -> machine and station
    buffers: dict[int, str] = field(default_factory=dict)
    carriages: dict[int, str] = field(default_factory=dict)  # record -> loader, carriage of several, or group of hands
    callers: dict[str, int] = field(default_factory=dict)  # by the same names: the record that holds the calls
    aside: dict[str, int] = field(default_factory=dict)  # name -> step of a chute or drawer
    ends: dict[int, str] = field(default_factory=dict)  # infeed and outfeed with a limited stock, and drawers
    crews: dict[str, int] = field(default_factory=dict)
    stations: dict[str, int] = field(default_factory=dict)  # name -> step
    stoppages: list[Stoppage] = field(default_factory=list)
    defects: list[tuple[str, str]] = field(default_factory=list)
    part_types: list[str] = field(default_factory=list)
    characteristics: list[tuple[str, str]] = field(default_factory=list)
    streams: list[Stream] = field(default_factory=list)
    most_strokes: int = 0  # of one operation
    most_together: int = 0  # parts that machines work on together
    types_ahead: int = 0  # part types drawn ahead
    drawn: dict[int, list[int]] = field(default_factory=dict)  # machine -> what is drawn as its operations end

    def new_floor(self) -> list[int]:
        """The whole row at time 0, for one replication."""
        return self.floor + [0] * self.behind

    def new_array(self) -> np.ndarray:
        """The same as an int64 array."""
        array = np.zeros(len(self.floor) + self.behind, dtype=np.int64)
        array[: len(self.floor)] = self._written
        return array

    @cached_property
    def _written(self) -> np.ndarray:
        return np.array(self.floor, dtype=np.int64)

    def room(self, size: int) -> int:
        """The address of so many new numbers, all 0, at the end of the row."""
        at = len(self.floor)
        self.floor.extend([0] * size)
        return at

    def room_behind(self, size: int) -> int:
        """The address of room for rows, once everything else is written."""
        at = len(self.floor) + self.behind
        self.behind += size
        return at

    def write(self, numbers: Iterable[int]) -> int:
        """The address of these numbers, written at the end of the row."""
        at = len(self.floor)
        self.floor.extend(int(number) for number in numbers)
        return at

    def set(self, record: int, **fields: int) -> None:
        """Set fields of a record by name."""
        for name, value in fields.items():
            self.floor[record + getattr(r, name)] = int(value)

    def add_stream(self, owner: str, purpose: str, distribution: Distribution | None, sd: float = 0.0) -> int:
        """The number of a new random stream."""
        self.streams.append(Stream(owner, purpose, distribution, sd))
        return len(self.streams) - 1

    def draw_at_end(self, machine: int, stream: int, address: int) -> None:
        """Have a number of this stream written to this address whenever an operation of this machine ends."""
        self.drawn.setdefault(machine, []).extend((stream, address))

    def places_of(self, step: int) -> list[int]:
        first, size, count = (self.floor[step + at] for at in (r.FIRST_PLACE, r.PLACE_SIZE, r.N_PLACES))
        return [first + n * size for n in range(count)]

    def name_of(self, step: int) -> str:
        """The name that a step has on the route; "" for an unnamed infeed or outfeed."""
        return self.owners[self.floor[self.floor[step + r.FIRST_PLACE] + r.NUMBER]].group

    def add_place(self, place: int, step: int, kind: int, owner: Owner) -> None:
        """Write what every place has, and give it its number."""
        self.set(place, OWNER_KIND=kind, NUMBER=len(self.owners), STEP=step, CALL_SINCE=-1, STATE=-1, ACTIVE_SINCE=-1)
        self.owners.append(owner)

    def rests_at(self, step: int) -> int:
        """How many parts can rest at a step."""
        if self.floor[step + r.KIND] == r.BUFFER:
            return self.floor[self.floor[step + r.FIRST_PLACE] + r.CAPACITY]
        holds = (
            self.floor[self.floor[step + r.FIRST_PLACE] + r.ROOM_FOR] if self.floor[step + r.KIND] == r.STATION else 0
        )
        return self.floor[step + r.N_PLACES] * max(1, holds)
