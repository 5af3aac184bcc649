"""Where everything stands in the drawing of a line: loaders as rails with their stops, other places in a row between.

Where all places have a size, sizes and positions along rails are to scale, all in one scale. Else the drawing is a
diagram, of which only positions along a rail are in proportion. Lengths are in units of the drawing, WIDTH across.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from linesim.line.carriers import carriers
from linesim.line.model import Line, Loader
from linesim.line.ways import all_ways, places
from linesim.report.boxes import DIAGRAM, Box, boxes_of, sizes_m
from linesim.report.motion import stops_of

WIDTH, MARGIN, GAP = 1000.0, 14.0, 30.0
MOST_PER_M, MOST_TO_SCALE = 110.0, 60.0  # a short rail, a small line to scale is not drawn larger than that
RAIL_GAP, LANE_GAP = 26.0, 8.0  # from rail to the first lane of boxes, between lanes
APART, TOUCHING = 4.0, -0.01  # from box to box in a diagram; to scale they may touch
END = 15.0  # half a carriage, at the ends of a rail
BARS_M = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
LONGEST_BAR, BAR_ROOM = 260.0, 34.0


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


@dataclass(frozen=True)
class ScaleBar:
    x: float
    y: float
    length: float
    metres: float


@dataclass
class Plan:
    """ways: lines from place to place where no rail runs, as points; stems: x, y of a stop and y of its rail.

    rows: top of each row of blocks; bar: of a plan to scale; further_out: boxes that find no room beside the rail where
    their stops are.
    """

    height: float = 0.0
    boxes: list[Box] = field(default_factory=list)
    rails: list[Rail] = field(default_factory=list)
    ways: list[list[tuple[float, float]]] = field(default_factory=list)
    stems: list[tuple[float, float, float]] = field(default_factory=list)
    rows: list[float] = field(default_factory=list)
    bar: ScaleBar | None = None
    further_out: list[str] = field(default_factory=list)


@dataclass
class _Block:
    """Boxes that are laid out together, around y = 0 and from x = 0 on."""

    width: float
    above: float
    below: float
    boxes: list[Box]
    rail: Rail | None = None
    further_out: list[str] = field(default_factory=list)


def plan_of(line: Line) -> Plan:
    """The drawing of a line: blocks in route order, row under row."""
    metres = sizes_m(line)
    per_m = _per_m(line, metres)
    sizes = {name: (per_m * along, per_m * across) for name, (along, across) in metres.items()} if metres else None
    plan, row, x, y = Plan(), list[_Block](), MARGIN, MARGIN
    for block in [*_blocks(line, per_m, sizes), None]:
        if block is None or (row and x + block.width > WIDTH - MARGIN):
            y = _lay(plan, row, y) + GAP
            row, x = [], MARGIN
        if block is not None:
            row.append(block)
            x += block.width + GAP
    plan.height = y - GAP + MARGIN
    plan.ways = [
        _way(plan, start, end, _between(line, start, end))
        for start, end, loaders in all_ways(line)
        if not {*loaders} & {*carriers(line)}
    ]
    if metres:
        long = max([bar for bar in BARS_M if bar * per_m <= LONGEST_BAR], default=BARS_M[0])
        plan.bar = ScaleBar(MARGIN, plan.height + BAR_ROOM / 2, long * per_m, long)
        plan.height += BAR_ROOM
    return plan


def _per_m(line: Line, metres: dict[str, tuple[float, float]] | None) -> float:
    """Units a metre, so that the longest rail with what stands at it, and the longest place, fit across."""
    most, beside = (MOST_TO_SCALE, 2 * END) if metres else (MOST_PER_M, DIAGRAM["machine"][0])
    lengths = [along for along, _ in metres.values()] if metres else []
    for loader in line.loaders.values():
        half = {name: metres[name][0] / 2 if metres else 0.0 for name in stops_of(line, loader)}
        ends = [at + way * half[name] for name, at in stops_of(line, loader).items() for way in (-1, 1)]
        lengths.append(max(ends) - min(ends))
    return min([most, *((WIDTH - 2 * MARGIN - beside) / length for length in lengths if length > 0)])


def _lay(plan: Plan, row: list[_Block], top: float) -> float:
    """Puts a row of blocks in its place; returns where it ends."""
    y = top + max(block.above for block in row)
    x = MARGIN
    plan.rows.append(top)
    for block in row:
        plan.boxes += [box.moved(x, y) for box in block.boxes]
        plan.further_out += block.further_out
        if block.rail:
            plan.rails.append(replace(block.rail, x=block.rail.x + x, y=y))
            plan.stems += [(box.x + x, box.y + y, y) for box in block.boxes]
        x += block.width + GAP
    return y + max(block.below for block in row)


def _blocks(line: Line, per_m: float, sizes: dict[str, tuple[float, float]] | None) -> Iterator[_Block]:
    drawn: set[str] = set()
    waiting = dict(line.loaders)
    for place in places(line):
        name = next((name for name, loader in waiting.items() if place in loader.stops), None)
        while name is not None:
            loader = waiting.pop(name)
            served = [
                (box, at)
                for stop_of, stop in loader.stops.items()
                for box, at in zip(boxes_of(line, stop_of, stop_of in drawn, sizes), stop.at, strict=False)
            ]
            yield _bay(name, loader, served, per_m, TOUCHING if sizes else APART)
            drawn |= loader.stops.keys()
            name = next((name for name, loader in waiting.items() if place in loader.stops), None)
        if place not in drawn:
            yield _alone(boxes_of(line, place, False, sizes))
            drawn.add(place)


def _bay(name: str, loader: Loader, served: list[tuple[Box, float]], per_m: float, apart: float) -> _Block:
    """A rail with its stops beside it, in as few lanes as keep them apart."""
    lanes: dict[int, list[Box]] = {}
    for box, position in served:
        x = per_m * position
        lane = next(lane for lane in _lanes(box) if _is_free(lanes.get(lane, []), x, box, apart))
        lanes.setdefault(lane, []).append(replace(box, x=x, beyond=box.beyond and (1 if lane > 0 else -1)))
    boxes, depth = [], {1: RAIL_GAP, -1: RAIL_GAP}
    for lane in sorted(lanes, key=abs):
        side = 1 if lane > 0 else -1
        boxes += [box.moved(0.0, side * (depth[side] + box.height / 2)) for box in lanes[lane]]
        depth[side] += max(box.height + box.name_room for box in lanes[lane]) + LANE_GAP
    at = [position for stop in loader.stops.values() for position in stop.at]
    left = min(per_m * min(at) - END, *(box.x - box.needs / 2 for box in boxes))
    right = max(per_m * max(at) + END, *(box.x + box.needs / 2 for box in boxes))
    above, below = (max(RAIL_GAP, depth[side] - LANE_GAP) for side in (-1, 1))
    out = [box.name for lane, inside in lanes.items() if abs(lane) > 1 for box in inside]
    rail = Rail(name, -left, 0.0, per_m, min(at), max(at))
    return _Block(right - left, above, below, [box.moved(-left, 0.0) for box in boxes], rail, out)


def _lanes(box: Box) -> Iterator[int]:
    """On the side that the file names. Else machines stand at the front, below the rail, all others at the rear, as
    far as there is room. Further lanes lie outside."""
    first = {"front": 1, "rear": -1, "": 1 if box.kind == "machine" else -1}[box.side]
    for outside in range(1, 1000):
        yield first * outside
        if not box.side:
            yield -first * outside


def _is_free(lane: list[Box], x: float, box: Box, apart: float) -> bool:
    return all(abs(other.x - x) >= (other.needs + box.needs) / 2 + apart for other in lane)


def _alone(boxes: list[Box]) -> _Block:
    """A place that no loader serves; machines of one station stand one above the other."""
    boxes = [replace(box, turned=False) for box in boxes]
    width, at, put = max(box.needs for box in boxes), 0.0, []
    for box in boxes:
        put.append(box.moved(width / 2, at + box.height / 2))
        at += box.height + box.name_room + LANE_GAP
    middle = (at - LANE_GAP) / 2 if len(boxes) > 1 else boxes[0].height / 2
    return _Block(width, middle, at - LANE_GAP - middle, [box.moved(0.0, -middle) for box in put])


def _between(line: Line, start: str, end: str) -> list[str]:
    """The places that parts skip on this way."""
    names = places(line)
    return names[names.index(start) + 1 : names.index(end)]


def _way(plan: Plan, start: str, end: str, skipped: list[str]) -> list[tuple[float, float]]:
    """From the right of one place to the left of the next; from row to row through the gap between them.

    Below what parts skip on this way, if that stands in the same row.
    """
    left, top, right, bottom = _frame(plan, start)
    to_left, to_top, to_right, to_bottom = _frame(plan, end)
    y, to_y = (top + bottom) / 2, (to_top + to_bottom) / 2
    level = [place for place in (*skipped, end) if _overlaps(_frame(plan, place), top, bottom)]
    if to_left > right and end in level and len(level) > 1:
        in_row = [box for box in plan.boxes if box.place in (start, *level) and not box.again]
        below = max(box.y + box.height / 2 + box.name_room for box in in_row) + 8
        middle, to_middle = (left + right) / 2, (to_left + to_right) / 2
        return [(middle, bottom), (middle, below), (to_middle, below), (to_middle, to_bottom)]
    if to_left > right:
        return [(right, y), (to_left, to_y)]
    if to_top < bottom:  # it stands to the left in the same row
        return [
            ((left + right) / 2, bottom),
            ((left + right) / 2, bottom + 8),
            (to_left - 8, bottom + 8),
            (to_left, to_y),
        ]
    between = max(row for row in plan.rows if row <= to_top) - GAP / 2
    return [
        (right, y),
        (right + 9, y),
        (right + 9, between),
        (to_left - 9, between),
        (to_left - 9, to_y),
        (to_left, to_y),
    ]


def _overlaps(frame: tuple[float, float, float, float], top: float, bottom: float) -> bool:
    return frame[1] < bottom and top < frame[3]


def _frame(plan: Plan, place: str) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a place, all its machines together."""
    boxes = [box for box in plan.boxes if box.place == place and not box.again]
    return (
        min(box.x - box.width / 2 for box in boxes),
        min(box.y - box.height / 2 for box in boxes),
        max(box.x + box.width / 2 for box in boxes),
        max(box.y + box.height / 2 for box in boxes),
    )
