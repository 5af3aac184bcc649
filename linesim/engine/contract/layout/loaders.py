"""Ways and carriages on the floor: which loader joins which places, its stops, times and call rule."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import Layout
from linesim.engine.contract.ledger import Owner, to_us
from linesim.line.model import Loader
from linesim.line.ways import handling, travel_s, way

CALL_RULES = {
    "downstream_first": r.DOWNSTREAM_FIRST,
    "longest_waiting": r.LONGEST_WAITING,
    "nearest": r.NEAREST,
    "priority": r.PRIORITY,
    "fixed": r.FIXED,
}


def write_ways(layout: Layout, steps: dict[int, int]) -> None:
    """Carriages get their addresses here; each step learns which of them serves the way to the next."""
    loaders = layout.line.loaders
    layout.floor[r.N_CARRIAGES] = len(loaders)
    layout.floor[r.CARRIAGES] = first = layout.room(r.CARRIAGE_SIZE * len(loaders))
    by_loader = {name: first + n * r.CARRIAGE_SIZE for n, name in enumerate(loaders)}
    layout.carriages = {record: name for name, record in by_loader.items()}
    for index in range(len(steps) - 1):
        step = steps[index]
        loader = way(layout.line, layout.name_of(step), layout.name_of(steps[index + 1])).loader
        layout.set(step, WAY_OUT=by_loader[loader] if loader else r.NONE, MOVES_DIRECTLY=loader is None)
    last = steps[len(steps) - 1]
    before = steps[len(steps) - 2]
    layout.set(before, ENDS_HERE=layout.name_of(last) == "" and layout.floor[before + r.KIND] == r.STATION)


def write_carriages(layout: Layout, steps: dict[int, int]) -> None:
    for carriage, name in layout.carriages.items():
        loader = layout.line.loaders[name]
        number = len(layout.owners)
        layout.owners.append(Owner(f"{name}.1", "carriage", name))
        layout.set(carriage, OWNER_KIND=r.CARRIAGE, NUMBER=number, STATE=-1, ACTIVE_SINCE=-1, HELD=r.NO_PART)
        layout.set(carriage, GRIPPERS=loader.grippers, EXCHANGES=loader.exchanges_per_tour)
        layout.set(carriage, TOUR=layout.room(2 * (loader.exchanges_per_tour + 2)))
        _write_stops(layout, carriage, loader, steps)
        _write_call_rule(layout, carriage, loader, steps)
        stop = layout.floor[layout.floor[carriage + r.STOP_OF] + _first_place(layout, steps, loader.park_at)]
        layout.set(carriage, PARK_AT=stop if loader.park_at else -1)


def _first_place(layout: Layout, steps: dict[int, int], name: str | None) -> int:
    """Number of the first place of a step by name; 0 for no name."""
    return next(
        (layout.floor[layout.floor[s + r.FIRST_PLACE] + r.NUMBER] for s in steps.values() if layout.name_of(s) == name),
        0,
    )


def _write_stops(layout: Layout, carriage: int, loader: Loader, steps: dict[int, int]) -> None:
    """The carriage's stops in route order, with the times between and at them; it starts at the first in the file."""
    positions: list[float] = []
    times: list[int] = []
    served: list[int] = []
    numbers = [-1] * len(layout.owners)
    for step in steps.values():
        name = layout.name_of(step)
        if name not in loader.stops:
            continue
        stop = loader.stops[name]
        own = handling(loader, stop)
        is_station = layout.floor[step + r.KIND] == r.STATION
        seconds = (own.unload_s, own.exchange_s, own.load_s) if is_station else (own.pick_s, 0.0, own.place_s)
        for place, position in zip(layout.places_of(step), stop.at, strict=True):
            numbers[layout.floor[place + r.NUMBER]] = len(served)
            if name == next(iter(loader.stops)) and place == layout.floor[step + r.FIRST_PLACE]:
                layout.set(carriage, AT=len(served))
            served.append(place)
            positions.append(position)
            times.extend(to_us(s) for s in seconds)
    travel = [to_us(travel_s(abs(a - b), loader.speed, loader.acceleration)) for a in positions for b in positions]
    layout.set(carriage, N_LOADER_STOPS=len(served), TRAVEL=layout.write(travel), TIMES=layout.write(times))
    layout.set(carriage, STOP_OF=layout.write(numbers), PLACE_OF=layout.write(served))


def _write_call_rule(layout: Layout, carriage: int, loader: Loader, steps: dict[int, int]) -> None:
    """Which places call this carriage, most downstream first, and how it chooses among them."""
    named = list(loader.next_call.places)
    served, ranks = [], []
    for step in reversed(list(steps.values())):
        name = layout.name_of(step)
        inspection = layout.line.stations[name].inspection if name in layout.line.stations else None
        goes_back = (
            inspection is not None
            and inspection.rework is not None
            and {name, inspection.rework.to} <= set(loader.stops)
        )
        if layout.floor[step + r.WAY_OUT] == carriage or goes_back:
            served += layout.places_of(step)
            rank = named.index(name) if name in named else len(named) + len(steps) - layout.floor[step + r.INDEX]
            ranks += [rank] * layout.floor[step + r.N_PLACES]
    layout.set(carriage, RULE=CALL_RULES[loader.next_call.rule])
    layout.set(carriage, SERVED=layout.write(served), N_SERVED=len(served), RANKS=layout.write(ranks))
    by_name = {layout.name_of(step): step for step in steps.values()}
    a_round = [by_name[name] for name in named if name in by_name]
    layout.set(carriage, ROUND=layout.write(a_round), N_ROUND=len(a_round))
