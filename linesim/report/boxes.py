"""The boxes of a drawing: one for each machine, buffer and end of the route, with its size and its name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from linesim.line.machines import each_machine
from linesim.line.model import Line, OnFloor
from linesim.line.ways import places

DIAGRAM = {"machine": (66.0, 46.0), "buffer": (48.0, 40.0), "infeed": (58.0, 34.0), "outfeed": (58.0, 34.0)}
DIAGRAM["chute"] = DIAGRAM["drawer"] = DIAGRAM["outfeed"]
CHUTE_M = (0.6, 0.6)  # a sign for it, since no file says how large it is
LETTER = 6.8  # width of a letter of the names
NAME_ROOM = 17.0  # what a name needs outside a box, from the box on; more if it is turned
LONGEST_NAME = 20
LEAST_HEIGHTS = {"machine": 46.0}  # with its name inside
LEAST_HEIGHT = 34.0  # of all others


@dataclass(frozen=True)
class Box:
    """A machine, buffer, end of the route, chute or drawer by its name in the trace; x, y: its middle. again: a copy.

    side: of the rail, "front", "rear" or "" where the file does not say; beyond: 1 if its name stands below it, -1 if
    above, 0 inside; turned: the name runs upwards.
    """

    name: str
    label: str
    kind: str
    place: str
    width: float
    height: float
    side: str = ""
    x: float = 0.0
    y: float = 0.0
    capacity: int = 1
    again: bool = False
    beyond: int = 0
    turned: bool = False

    @property
    def needs(self) -> float:
        """Width that it takes beside others."""
        return max(self.width, NAME_ROOM if self.turned else len(self.label) * LETTER if self.beyond else 0.0)

    @property
    def name_room(self) -> float:
        """Height that its name takes outside."""
        if not self.beyond:
            return 0.0
        return len(self.label) * LETTER + 8 if self.turned else NAME_ROOM

    def moved(self, x: float, y: float) -> Box:
        return replace(self, x=self.x + x, y=self.y + y)


def on_floor(line: Line, place: str) -> OnFloor:
    """What holds for a place of the route, a drawer or a chute."""
    for kind in (line.stations, line.buffers, line.infeed, line.outfeed, line.drawers):
        if place in kind:
            found: OnFloor = kind[place]
            return found
    return OnFloor(size=CHUTE_M)


def sizes_m(line: Line) -> dict[str, tuple[float, float]] | None:
    """Name of each box -> its size [m]; None unless all have one."""
    found = {}
    stops = [place for loader in line.loaders.values() for place in loader.stops]
    for place in dict.fromkeys([*places(line), *stops]):
        owners: Mapping[str, OnFloor] = {place: on_floor(line, place)}
        if place in line.stations:
            owners = each_machine(place, line.stations[place])
        for name, each in owners.items():
            if each.size is None:
                return None
            found[name] = each.size
    return found


def boxes_of(line: Line, place: str, again: bool, sizes: Mapping[str, tuple[float, float]] | None) -> list[Box]:
    """The boxes of a place; sizes: of each by its name, in units of the drawing; None: those of a diagram."""
    names, kind, capacity = {place: place}, "buffer", 0
    if place in line.stations:
        machines = each_machine(place, line.stations[place])
        names, kind = {name: place if len(machines) == 1 else name for name in machines}, "machine"
    elif place in line.buffers:
        capacity = line.buffers[place].capacity
    else:
        ends = {"infeed": line.infeed, "outfeed": line.outfeed, "drawer": line.drawers}
        kind = next((kind for kind, named in ends.items() if place in named), "chute")
    side = on_floor(line, place).side
    sides = side if len(side) == len(names) else side * len(names) or ("",) * len(names)
    made = []
    for (name, words), stands in zip(names.items(), sides, strict=True):
        width, height = sizes[name] if sizes else DIAGRAM[kind]
        box = Box(name, words, kind, place, width, height, stands, capacity=capacity, again=again)
        made.append(_named(box, bool(sizes)))
    return made


def _named(box: Box, to_scale: bool) -> Box:
    """With its name cut to what fits; in a drawing to scale it may stand outside, below the box."""
    fits = int(box.width / LETTER)
    if to_scale and (len(box.label) > fits or box.height < LEAST_HEIGHTS.get(box.kind, LEAST_HEIGHT)):
        short = cut(box.label, LONGEST_NAME)
        return replace(box, label=short, beyond=1, turned=len(short) > fits)
    return replace(box, label=cut(box.label, fits))


def cut(words: str, letters: int) -> str:
    return words if len(words) <= letters else f"{words[: letters - 1]}…"
