"""Shop floors set by hand: fields are named by their owner, times are plain microseconds, nothing is simulated."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import linesim
from linesim.engine.contract import records as r
from linesim.engine.contract.calls import refresh_calls
from linesim.engine.contract.decide import look_at_everything
from linesim.engine.contract.layout import lay_out
from linesim.engine.contract.places import put_part
from linesim.engine.contract.places import take_part as take_from
from linesim.engine.contract.states import set_states
from tests.helpers.lines import Plain, breakdown, loader, serial

ACTIONS = {r.PICK: "pick", r.EXCHANGE: "exchange", r.PUT: "put"}


class Hand:
    """A hand on the floor of a line: it sets fields, puts parts in places, and reads names instead of addresses."""

    def __init__(self, given: Mapping[str, Any]) -> None:
        self.layout = lay_out(linesim.load_line(given))
        self.floor = self.layout.floor = self.layout.new_floor()
        self.steps = {}
        self.records = dict(self.layout.crews)
        for n in range(self.floor[r.N_STEPS]):
            step = self.floor[r.STEPS] + n * r.STEP_SIZE
            self.steps[self.layout.name_of(step)] = step
            for place in self.layout.places_of(step):
                self.records[self._owner(place)] = place
        for carriage in self.layout.carriages:
            self.records[self._owner(carriage)] = carriage
        for stoppage in self.layout.stoppages:
            self.records[f"{stoppage.owner.name} {stoppage.name}"] = stoppage.record
        self.names = {record: name for name, record in self.records.items()}

    def _owner(self, record: int) -> str:
        return self.layout.owners[self.floor[record + r.NUMBER]].name

    def at(self, name: str) -> int:
        """The record of "mill.1", "gantry.1", a buffer, a crew, or "mill.1 jam" for a breakdown or stop."""
        return self.records[name]

    def get(self, name: str, field: str) -> int:
        return self.floor[self.at(name) + getattr(r, field)]

    def set(self, name: str, **fields: int) -> None:
        self.layout.set(self.at(name), **fields)

    def step(self, name: str, field: str) -> int:
        return self.floor[self.steps[name] + getattr(r, field)]

    def now(self, time_us: int) -> None:
        self.floor[r.NOW] = time_us

    def name(self, record: int) -> str | None:
        return self.names[record] if record else None

    def new_part(self) -> int:
        """A part fresh from the infeed, in nobody's hands."""
        infeed = self.floor[self.floor[r.STEPS] + r.FIRST_PLACE]
        return take_from(self.floor, infeed, -1)

    def fill(self, name: str, parts: int = 1) -> None:
        """Put fresh parts into a buffer, or one into a machine."""
        for _ in range(parts):
            put_part(self.floor, self.at(name), self.new_part(), -1)

    def finish(self, name: str, since: int = 0) -> int:
        """A machine holds a part that it finished then. Returns the part."""
        self.fill(name)
        self.set(name, PHASE=r.FINISHED, SINCE=since)
        return self.get(name, "PART")

    def work(self, name: str, since: int = 0) -> int:
        """A machine works on a part since then. Returns the part."""
        self.fill(name)
        self.set(name, PHASE=r.WORKING, SINCE=since)
        return self.get(name, "PART")

    def break_down(self, owner: str, cause: str = "jam", progress: int = r.UNDER_WAY) -> None:
        self.set(owner, DOWN=self.at(f"{owner} {cause}"))
        self.set(f"{owner} {cause}", PROGRESS=progress)

    def stop(self, machine: str, name: str, progress: int = r.UNDER_WAY) -> None:
        self.set(machine, STOP=self.at(f"{machine} {name}"))
        self.set(f"{machine} {name}", PROGRESS=progress)

    def look(self) -> None:
        """Open and close the calls of the whole line."""
        look_at_everything(self.floor)
        refresh_calls(self.floor)

    def view(self) -> None:
        """Bring every station into view, in route order."""
        stations = list(self.layout.stations.values())
        first = self.floor[r.IN_VIEW]
        self.floor[first : first + len(stations)] = stations
        self.floor[r.N_IN_VIEW] = len(stations)

    def set_states(self) -> None:
        """Set the states of the whole line, with every call looked at."""
        self.look()
        self.view()
        set_states(self.floor)

    def spells(self) -> list[list[int]]:
        """Spells written so far: [owner's number, from, to]."""
        first = self.floor[r.SPELLS_AT]
        return [self.floor[first + 3 * n : first + 3 * n + 3] for n in range(self.floor[r.N_SPELLS])]

    def calls(self) -> dict[str, tuple[int, str]]:
        """Open calls: place -> since when, and the place its part would go to."""
        return {
            self._owner(place): (self.floor[place + r.CALL_SINCE], self._owner(self.floor[place + r.CALL_TO]))
            for step in self.steps.values()
            for place in self.layout.places_of(step)
            if self.floor[place + r.CALL_SINCE] >= 0
        }

    def tour(self, carriage: str = "gantry.1") -> list[tuple[str, str]]:
        """The stops of a carriage's tour: (what it does there, place)."""
        first = self.get(carriage, "TOUR")
        pairs = [self.floor[first + 2 * n : first + 2 * n + 2] for n in range(self.get(carriage, "N_TOUR"))]
        return [(ACTIONS[action], self._owner(place)) for place, action in pairs]

    def wakes(self) -> list[tuple[int, str]]:
        """Timers asked for: (what, name of who)."""
        first = self.floor[r.WAKES]
        pairs = [self.floor[first + 2 * n : first + 2 * n + 2] for n in range(self.floor[r.N_WAKES])]
        return [(what, self.names[who]) for what, who in pairs]

    def where(self) -> dict[str, list[int]]:
        """Ids of the parts in each machine and buffer that holds any, first in first."""
        found = {}
        for machine, (name, _) in self.layout.machines.items():
            if self.floor[machine + r.PART] != r.NO_PART:
                found[name] = [self.floor[self.floor[machine + r.PART] + r.PART_ID]]
        for buffer, name in self.layout.buffers.items():
            ring, size = self.get(name, "RING"), self.get(name, "CAPACITY")
            held = [self.floor[ring + (self.get(name, "HEAD") + n) % size] for n in range(self.get(name, "LEVEL"))]
            if held:
                assert self.floor[buffer + r.LEVEL] == len(held)
                found[name] = [self.floor[part + r.PART_ID] for part in held]
        return found


def jam(**rest: Any) -> Plain:
    """A breakdown called jam."""
    return {"jam": breakdown(1000, 10, **rest)}


def every(count: int, **rest: Any) -> Plain:
    """A stop after so many parts, its count at 0."""
    return {"every": f"{count} parts", "takes": "5 s", "age": "0 parts", **rest}


def gantry_line(turn: int = 1, grind: int = 1, park: int = 0, dwell: str = "0 s", **keys: Any) -> Plain:
    """Stocker 0 m, turn at 2 m, 3 m, ..., park 5 m, grind at 6 m, 7 m, ..., tray 9 m, all under one gantry.

    turn, grind: machines, each of which can jam; park: capacity; keys: further keys of the loader.
    """
    stops = {
        "stocker": 0,
        "turn": [2 + n for n in range(turn)],
        "park_1": 5,
        "grind": [6 + n for n in range(grind)],
        "tray": 9,
    }
    stations = {
        "turn": {"cycle": "10 s", "machines": turn, "breakdowns": jam()},
        "grind": {"cycle": "20 s", "machines": grind, "breakdowns": jam()},
    }
    if not park:
        del stops["park_1"]
    line = serial(stations, [park], loaders={"gantry": loader(stops, **keys)})
    if park:
        line["buffers"]["park_1"]["dwell"] = dwell
    return line
