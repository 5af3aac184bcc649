"""Ways and carriages on the floor: which loader or hands join which places, stops, times and call rule of each."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.aside import write_ways_aside
from linesim.engine.contract.layout.form import Layout
from linesim.engine.contract.layout.hands import write_times_by_hand
from linesim.engine.contract.ledger import Owner, to_us
from linesim.line.carriers import carriers, loader_of, owner_name, whole_um
from linesim.line.hands import hands, tours_at_once
from linesim.line.model import Loader
from linesim.line.ways import carriers_and_hands, handling, travel_s, way

CALL_RULES = {
    "downstream_first": r.DOWNSTREAM_FIRST,
    "longest_waiting": r.LONGEST_WAITING,
    "nearest": r.NEAREST,
    "priority": r.PRIORITY,
    "fixed": r.FIXED,
}


def write_ways(layout: Layout, steps: dict[int, int]) -> None:
    """Carriages get their addresses here; each step learns which of them serves the way to the next."""
    names = [*carriers(layout.line)]
    for name, each in hands(layout.line).items():
        names += [name] * tours_at_once(layout.line, each)
    layout.floor[r.N_CARRIAGES] = len(names)
    layout.floor[r.CARRIAGES] = first = layout.room(r.CARRIAGE_SIZE * len(names))
    layout.carriages = {first + n * r.CARRIAGE_SIZE: name for n, name in enumerate(names)}
    for record, name in layout.carriages.items():
        layout.callers.setdefault(name, record)
    for index in range(len(steps) - 1):
        step = steps[index]
        loader = way(layout.line, layout.name_of(step), layout.name_of(steps[index + 1])).loader
        layout.set(step, WAY_OUT=layout.callers[loader] if loader else r.NONE, MOVES_DIRECTLY=loader is None)
    last = steps[len(steps) - 1]
    before = steps[len(steps) - 2]
    write_ways_aside(layout, layout.callers)
    layout.set(before, ENDS_HERE=layout.name_of(last) == "" and layout.floor[before + r.KIND] == r.STATION)


def write_carriages(layout: Layout, steps: dict[int, int]) -> None:
    known = carriers_and_hands(layout.line)
    for carriage, name in layout.carriages.items():
        loader = known[name]
        number = len(layout.owners)
        of_group = (carriage - layout.callers[name]) // r.CARRIAGE_SIZE  # of hands
        own_name = f"{name}.{of_group + 1}" if of_group else owner_name(name)
        layout.owners.append(Owner(own_name, "carriage", loader_of(name)))
        layout.set(carriage, CALLS_OF=layout.callers[name], LEG_STREAM=-1)
        layout.set(carriage, OWNER_KIND=r.CARRIAGE, NUMBER=number, STATE=-1, ACTIVE_SINCE=-1, HELD=r.NO_PART)
        layout.set(carriage, WANTS=-1, WANTED_SINCE=-1)
        layout.set(carriage, GRIPPERS=loader.grippers, EXCHANGES=loader.exchanges_per_tour)
        layout.set(carriage, TOUR=layout.room(2 * (loader.exchanges_per_tour + 2)))
        _write_stops(layout, carriage, loader, steps)
        _write_call_rule(layout, carriage, loader, steps)
        stop = layout.floor[layout.floor[carriage + r.STOP_OF] + _first_place(layout, steps, loader.park_at)]
        layout.set(carriage, PARK_AT=stop if loader.park_at else -1)
        if name in hands(layout.line):
            write_times_by_hand(layout, carriage, hands(layout.line)[name])
    _share_rails(layout)


def _first_place(layout: Layout, steps: dict[int, int], name: str | None) -> int:
    """Number of the first place of a step by name; 0 for no name."""
    return next(
        (
            layout.floor[layout.floor[s + r.FIRST_PLACE] + r.NUMBER]
            for s in (*steps.values(), *layout.aside.values())
            if layout.name_of(s) == name
        ),
        0,
    )


def _share_rails(layout: Layout) -> None:
    """Carriages of one loader learn who is beside them on the rail."""
    for name, loader in layout.line.loaders.items():
        group = [record for record, carrier in layout.carriages.items() if loader_of(carrier) == name]
        if len(group) > 1:
            layout.floor[r.RAILS_SHARED] = 1
            for carriage in group:
                here = layout.floor[layout.floor[carriage + r.POSITION_OF] + layout.floor[carriage + r.AT]]
                layout.set(carriage, FIRST_ON_RAIL=group[0], N_ON_RAIL=len(group), LOW=here, HIGH=here)
                layout.set(carriage, APART=whole_um(loader.apart or 0.0))


def _points_aside_um(loader: Loader, own: str) -> list[int]:
    """Where a carriage gives way: as far as it must be from each stop of the others on its rail [um].

    Those between two carriages need their room too, so the distance counts once for each place in their order.
    """
    order = list(loader.carriages)
    apart_um = whole_um(loader.apart or 0.0)
    points = {
        whole_um(at) + (order.index(own) - order.index(other)) * apart_um
        for other, carriage in loader.carriages.items()
        if other != own
        for stop in carriage.stops.values()
        for at in stop.at
    }
    return sorted(points)


def _write_stops(layout: Layout, carriage: int, loader: Loader, steps: dict[int, int]) -> None:
    """The carriage's stops in route order, chutes last, with times between and at them. It starts at the first one."""
    positions: list[float] = []
    times: list[int] = []
    served: list[int] = []
    numbers = [-1] * len(layout.owners)
    for step in [*steps.values(), *layout.aside.values()]:
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
    name = layout.carriages[carriage]
    if "." in name:
        points_um = _points_aside_um(layout.line.loaders[loader_of(name)], name.partition(".")[2])
        positions += [at / 1e6 for at in points_um]
    travel = [to_us(travel_s(abs(a - b), loader.speed, loader.acceleration)) for a in positions for b in positions]
    layout.set(carriage, N_LOADER_STOPS=len(positions), TRAVEL=layout.write(travel), TIMES=layout.write(times))
    layout.set(carriage, POSITION_OF=layout.write(whole_um(at) for at in positions))
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
        past = layout.floor[step + r.WAYS_PAST]
        ways_out = [layout.floor[step + way_out] for way_out in (r.WAY_OUT, r.CHUTE_WAY, r.DRAWER_WAY)]
        ways_out += layout.floor[past : past + len(steps)] if past else []
        if layout.floor[carriage + r.CALLS_OF] in ways_out or goes_back:
            served += layout.places_of(step)
            rank = named.index(name) if name in named else len(named) + len(steps) - layout.floor[step + r.INDEX]
            ranks += [rank] * layout.floor[step + r.N_PLACES]
    layout.set(carriage, RULE=CALL_RULES[loader.next_call.rule])
    layout.set(carriage, SERVED=layout.write(served), N_SERVED=len(served), RANKS=layout.write(ranks))
    by_name = {layout.name_of(step): step for step in steps.values()}
    a_round = [by_name[name] for name in named if name in by_name]
    layout.set(carriage, ROUND=layout.write(a_round), N_ROUND=len(a_round))
