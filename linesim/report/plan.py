"""Where everything stands in the drawing of a line: loaders as rails with their stops, other places in a row between.

Positions along a rail are to scale; nothing else is. Lengths are in units of the drawing, WIDTH of them across.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from linesim.line.machines import each_machine
from linesim.line.model import Line, Loader
from linesim.line.ways import places, ways

WIDTH, MARGIN, GAP = 1000.0, 14.0, 30.0
MOST_PER_M = 110.0  # a short rail is not drawn longer than that
SIZES = {"machine": (66.0, 46.0), "buffer": (48.0, 40.0), "infeed": (58.0, 34.0), "outfeed": (58.0, 34.0)}
SIZES["chute"] = SIZES["outfeed"]
RAIL_GAP, LANE = 26.0, 54.0  # from rail to the first lane of boxes, from lane to lane
LETTER = 6.8  # width of a letter of the names


@dataclass(frozen=True)
class Box:
    """A machine, buffer, end of the route or chute by its name in the trace; x, y: its middle. again: drawn before."""

    name: str
    label: str
    kind: str
    place: str
    x: float
    y: float
    capacity: int = 1
    again: bool = False

    @property
    def width(self) -> float:
        return SIZES[self.kind][0]

    @property
    def height(self) -> float:
        return SIZES[self.kind][1]

    def moved(self, x: float, y: float) -> Box:
        return Box(self.name, self.label, self.kind, self.place, self.x + x, self.y + y, self.capacity, self.again)


@dataclass(frozen=True)
class Rail:
    """The rail of a loader: y, x of its position 0 m, and units a metre; from, to: its ends [m]."""

    loader: str
    x: float
    y: float
    per_m: float
    from_m: float
    to_m: float

    def at(self, position_m: float) -> float:
        return self.x + self.per_m * position_m


@dataclass
class Plan:
    """ways: lines from place to place that no loader joins, as points; stems: x, y of a stop and y of its rail."""

    height: float = 0.0
    boxes: list[Box] = field(default_factory=list)
    rails: list[Rail] = field(default_factory=list)
    ways: list[list[tuple[float, float]]] = field(default_factory=list)
    stems: list[tuple[float, float, float]] = field(default_factory=list)


@dataclass
class _Block:
    """Boxes that are laid out together, around y = 0 and from x = 0 on."""

    width: float
    above: float
    below: float
    boxes: list[Box]
    rail: Rail | None = None


def plan_of(line: Line) -> Plan:
    """The drawing of a line: blocks in route order, row under row."""
    plan, row, x, y = Plan(), list[_Block](), MARGIN, MARGIN
    for block in [*_blocks(line), None]:
        if block is None or (row and x + block.width > WIDTH - MARGIN):
            y = _lay(plan, row, y) + GAP
            row, x = [], MARGIN
        if block is not None:
            row.append(block)
            x += block.width + GAP
    plan.height = y - GAP + MARGIN
    plan.ways = [_way(plan, start, end) for start, end, loaders in ways(line) if not loaders]
    return plan


def _lay(plan: Plan, row: list[_Block], top: float) -> float:
    """Puts a row of blocks in its place; returns where it ends."""
    y = top + max(block.above for block in row)
    x = MARGIN
    for block in row:
        plan.boxes += [box.moved(x, y) for box in block.boxes]
        if block.rail:
            rail = block.rail
            plan.rails.append(Rail(rail.loader, rail.x + x, y, rail.per_m, rail.from_m, rail.to_m))
            plan.stems += [(box.x + x, box.y + y, y) for box in block.boxes]
        x += block.width + GAP
    return y + max(block.below for block in row)


def _blocks(line: Line) -> Iterator[_Block]:
    drawn: set[str] = set()
    per_m = min([MOST_PER_M, *(_per_m(loader) for loader in line.loaders.values())])
    waiting = dict(line.loaders)
    for place in places(line):
        name = next((name for name, loader in waiting.items() if place in loader.stops), None)
        while name is not None:
            yield _bay(line, name, waiting.pop(name), per_m, drawn)
            drawn |= line.loaders[name].stops.keys()
            name = next((name for name, loader in waiting.items() if place in loader.stops), None)
        if place not in drawn:
            yield _alone(line, place)
            drawn.add(place)


def _per_m(loader: Loader) -> float:
    at = [position for stop in loader.stops.values() for position in stop.at]
    room = WIDTH - 2 * MARGIN - SIZES["machine"][0]
    return room / (max(at) - min(at)) if max(at) > min(at) else MOST_PER_M


def _bay(line: Line, name: str, loader: Loader, per_m: float, drawn: set[str]) -> _Block:
    """A rail with its stops hung above and below it, in as few lanes as keep them apart."""
    at = [position for stop in loader.stops.values() for position in stop.at]
    side = SIZES["machine"][0] / 2
    rail = Rail(name, side - per_m * min(at), 0.0, per_m, min(at), max(at))
    lanes: dict[int, list[Box]] = {}
    for place, stop in loader.stops.items():
        for box, position in zip(_boxes(line, place, place in drawn), stop.at, strict=False):
            lane = next(lane for lane in _lanes(box.kind) if _is_free(lanes.get(lane, []), rail.at(position), box))
            inner = RAIL_GAP + box.height / 2 + LANE * (abs(lane) - 1)
            lanes.setdefault(lane, []).append(box.moved(rail.at(position), inner if lane > 0 else -inner))
    boxes = [box for lane in lanes.values() for box in lane]
    above = max([RAIL_GAP, *(box.height / 2 - box.y for box in boxes)])
    below = max([RAIL_GAP, *(box.height / 2 + box.y for box in boxes)])
    return _Block(2 * side + per_m * (max(at) - min(at)), above, below, boxes, rail)


def _lanes(kind: str) -> Iterator[int]:
    """Machines stand below the rail, all else above it, as far as there is room; further lanes lie outside."""
    first = 1 if kind == "machine" else -1
    for outside in range(1, 1000):
        yield first * outside
        yield -first * outside


def _is_free(lane: list[Box], x: float, box: Box) -> bool:
    return all(abs(other.x - x) >= (other.width + box.width) / 2 + 4 for other in lane)


def _alone(line: Line, place: str) -> _Block:
    """A place that no loader serves; machines of one station stand one above the other."""
    boxes = _boxes(line, place, False)
    width, height = SIZES[boxes[0].kind]
    pitch = height + 8
    first = -(len(boxes) - 1) * pitch / 2
    put = [box.moved(width / 2, first + number * pitch) for number, box in enumerate(boxes)]
    side = (len(boxes) * pitch - 8) / 2
    return _Block(width, side, side, put)


def _boxes(line: Line, place: str, again: bool) -> list[Box]:
    if place in line.stations:
        machines = each_machine(place, line.stations[place])
        names = {name: place if len(machines) == 1 else name for name in machines}
        return [_box(name, label, "machine", place, again=again) for name, label in names.items()]
    if place in line.buffers:
        return [_box(place, place, "buffer", place, line.buffers[place].capacity, again)]
    kind = "infeed" if place in line.infeed else "outfeed" if place in line.outfeed else "chute"
    return [_box(place, place, kind, place, 0, again)]


def _box(name: str, words: str, kind: str, place: str, capacity: int = 1, again: bool = False) -> Box:
    fits = int(SIZES[kind][0] / LETTER)
    label = words if len(words) <= fits else f"{words[: fits - 1]}…"
    return Box(name, label, kind, place, 0.0, 0.0, capacity, again)


def _way(plan: Plan, start: str, end: str) -> list[tuple[float, float]]:
    """From the right of one place to the left of the next; from row to row through the gap between them."""
    left, top, right, bottom = _frame(plan, start)
    to_left, to_top, _, to_bottom = _frame(plan, end)
    y, to_y = (top + bottom) / 2, (to_top + to_bottom) / 2
    if to_left > right:
        return [(right, y), (to_left, to_y)]
    if to_top < bottom:  # it stands to the left in the same row
        return [
            ((left + right) / 2, bottom),
            ((left + right) / 2, bottom + 8),
            (to_left - 8, bottom + 8),
            (to_left, to_y),
        ]
    between = to_top - GAP / 2
    return [
        (right, y),
        (right + 9, y),
        (right + 9, between),
        (to_left - 9, between),
        (to_left - 9, to_y),
        (to_left, to_y),
    ]


def _frame(plan: Plan, place: str) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a place, all its machines together."""
    boxes = [box for box in plan.boxes if box.place == place and not box.again]
    return (
        min(box.x - box.width / 2 for box in boxes),
        min(box.y - box.height / 2 for box in boxes),
        max(box.x + box.width / 2 for box in boxes),
        max(box.y + box.height / 2 for box in boxes),
    )
