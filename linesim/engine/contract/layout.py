"""From a line to its shop floor: every record written into the row of numbers that the rules work on.

The only file that knows both forms. Lengths and names are settled here, once; a replication starts from a copy.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from linesim.engine.contract import records as r
from linesim.engine.contract.ledger import MachineState, Owner, to_us
from linesim.engine.contract.log import DEPARTURE_WIDTH, SPELL_WIDTH, TRACE_WIDTH
from linesim.engine.contract.neighbours import write_neighbours
from linesim.engine.contract.order import Timer, order_table
from linesim.engine.contract.streams import CHANCE_SCALE
from linesim.line.distributions import Constant, Distribution
from linesim.line.model import STOP_KINDS, Breakdown, Inspection, Line, Loader, Station, Stop
from linesim.line.ways import handling, places, travel_s, way

ROWS_KEPT = 4096  # rows of each kind that fit beside those of one decision

STOP_STATES = {
    "tool_change": MachineState.TOOL_CHANGE,
    "dressing": MachineState.DRESSING,
    "measuring": MachineState.MEASURING_STOP,
    "cleaning": MachineState.CLEANING,
}
CALL_RULES = {
    "downstream_first": r.DOWNSTREAM_FIRST,
    "longest_waiting": r.LONGEST_WAITING,
    "nearest": r.NEAREST,
    "priority": r.PRIORITY,
    "fixed": r.FIXED,
}
EFFECTS = {"resume": r.RESUME, "restart": r.RESTART, "scrap": r.SCRAP_PART}


@dataclass(frozen=True)
class Stoppage:
    """A breakdown or stop of one owner, with the durations its stories draw."""

    record: int
    owner: Owner
    kind: str  # "breakdown" or one of STOP_KINDS
    name: str
    interval: Distribution | None  # time to failure or between stops by time; None by count
    takes: Distribution
    response: Distribution
    start_age: int | None  # of a stop, in parts or microseconds; None: drawn

    @property
    def purpose(self) -> str:
        return f"{self.kind}.{self.name}"


@dataclass
class Layout:
    """A line as the engines see it. `floor` is the row at time 0; addresses are those of `records.py`."""

    line: Line
    floor: list[int] = field(default_factory=lambda: [0] * r.HEADER_SIZE)
    owners: list[Owner] = field(default_factory=list)
    machines: dict[int, tuple[str, str]] = field(default_factory=dict)  # record -> machine and station
    buffers: dict[int, str] = field(default_factory=dict)
    carriages: dict[int, str] = field(default_factory=dict)
    crews: dict[str, int] = field(default_factory=dict)
    stations: dict[str, int] = field(default_factory=dict)  # name -> step
    stoppages: list[Stoppage] = field(default_factory=list)
    defects: list[tuple[str, str]] = field(default_factory=list)
    timers: list[Timer] = field(default_factory=list)
    rows_kept: int = ROWS_KEPT

    def room(self, size: int) -> int:
        """The address of so many new numbers, all 0, at the end of the row."""
        at = len(self.floor)
        self.floor.extend([0] * size)
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

    def places_of(self, step: int) -> list[int]:
        first, size, count = (self.floor[step + at] for at in (r.FIRST_PLACE, r.PLACE_SIZE, r.N_PLACES))
        return [first + n * size for n in range(count)]


def lay_out(line: Line) -> Layout:
    """Write the shop floor of a sound line."""
    layout = Layout(line)
    names = _names_of_steps(line)
    steps = _write_places(layout, names)
    _write_ways(layout, steps)
    _write_crews(layout)
    _write_carriages(layout, steps)
    _write_stoppages(layout)
    _write_inspections(layout, steps)
    write_neighbours(layout.floor, list(steps.values()))
    _write_lists(layout)
    layout.timers = order_table(layout.floor)
    return layout


def _names_of_steps(line: Line) -> list[str]:
    """The route with an infeed and an outfeed: unnamed ones where the line has none."""
    names = places(line)
    if names[0] not in line.infeed:
        names.insert(0, "")
    if names[-1] not in line.outfeed:
        names.append("")
    return names


# ---- places -----------------------------------------------------------------------------------------------------------


def _write_places(layout: Layout, names: Sequence[str]) -> dict[int, int]:
    """Write steps and their places; returns the steps' addresses by index."""
    first = layout.room(r.STEP_SIZE * len(names))
    layout.floor[r.STEPS], layout.floor[r.N_STEPS] = first, len(names)
    steps = {index: first + index * r.STEP_SIZE for index in range(len(names))}
    stations = [(index, name) for index, name in enumerate(names) if name in layout.line.stations]
    buffers = [(index, name) for index, name in enumerate(names) if name in layout.line.buffers]
    layout.floor[r.N_MACHINES] = sum(layout.line.stations[name].machines for _, name in stations)
    layout.floor[r.MACHINES] = machines = layout.room(r.MACHINE_SIZE * layout.floor[r.N_MACHINES])
    layout.floor[r.N_BUFFERS] = len(buffers)
    layout.floor[r.BUFFERS] = buffer = layout.room(r.BUFFER_SIZE * len(buffers))
    for index, name in enumerate(names):
        step = steps[index]
        if name in layout.line.stations:
            station = layout.line.stations[name]
            layout.set(step, KIND=r.STATION, FIRST_PLACE=machines, PLACE_SIZE=r.MACHINE_SIZE)
            _write_station(layout, step, name, station, machines)
            machines += station.machines * r.MACHINE_SIZE
        elif name in layout.line.buffers:
            layout.set(step, KIND=r.BUFFER, FIRST_PLACE=buffer, N_PLACES=1)
            _write_buffer(layout, step, name, buffer)
            buffer += r.BUFFER_SIZE
        else:
            kind, word = (r.INFEED, "infeed") if index == 0 else (r.OUTFEED, "outfeed")
            end = layout.room(r.END_SIZE)
            layout.set(step, KIND=kind, FIRST_PLACE=end, N_PLACES=1)
            _write_place(layout, end, step, kind, Owner(name, word, name))
        layout.set(step, INDEX=index)
    return steps


def _write_place(layout: Layout, place: int, step: int, kind: int, owner: Owner) -> None:
    number = len(layout.owners)
    layout.set(place, OWNER_KIND=kind, NUMBER=number, STEP=step, CALL_SINCE=-1, STATE=-1, ACTIVE_SINCE=-1)
    layout.owners.append(owner)


def _write_station(layout: Layout, step: int, name: str, station: Station, machine: int) -> None:
    layout.set(step, N_PLACES=station.machines, STATION_NUMBER=len(layout.stations))
    layout.set(step, BEFORE_SERVICE=station.blocking == "before_service")
    layout.stations[name] = step
    for n in range(station.machines):
        owner = Owner(f"{name}.{n + 1}", "machine", name)
        _write_place(layout, machine, step, r.STATION, owner)
        layout.set(machine, PART=r.NO_PART, PHASE=r.EMPTY, PART_TO=step + r.STEP_SIZE)
        layout.machines[machine] = (owner.name, name)
        machine += r.MACHINE_SIZE
    if station.defects:
        total = 0.0
        chances = []
        for defect, share in station.defects.items():
            total += share
            chances.append(round(total * CHANCE_SCALE))
            layout.defects.append((name, defect))
        layout.set(step, DEFECTS=layout.write(chances), N_DEFECTS=len(chances))
        layout.set(step, FIRST_DEFECT=len(layout.defects) - len(chances))


def _write_buffer(layout: Layout, step: int, name: str, buffer: int) -> None:
    capacity = layout.line.buffers[name].capacity
    dwell = to_us(layout.line.buffers[name].dwell)
    layout.set(step, PASSABLE=dwell == 0)
    _write_place(layout, buffer, step, r.BUFFER, Owner(name, "buffer", name))
    layout.set(buffer, CAPACITY=capacity, DWELL=dwell, RING=layout.room(2 * capacity))
    layout.set(buffer, LEVEL_TIME=layout.room(capacity + 1))
    layout.buffers[buffer] = name


# ---- ways and carriages ---------------------------------------------------------------------------------------------------


def _name_of(layout: Layout, step: int) -> str:
    return layout.owners[layout.floor[layout.floor[step + r.FIRST_PLACE] + r.NUMBER]].group


def _write_ways(layout: Layout, steps: dict[int, int]) -> None:
    """Carriages get their addresses here; each step learns which of them serves the way to the next."""
    loaders = layout.line.loaders
    layout.floor[r.N_CARRIAGES] = len(loaders)
    layout.floor[r.CARRIAGES] = first = layout.room(r.CARRIAGE_SIZE * len(loaders))
    by_loader = {name: first + n * r.CARRIAGE_SIZE for n, name in enumerate(loaders)}
    layout.carriages = {record: name for name, record in by_loader.items()}
    for index in range(len(steps) - 1):
        step = steps[index]
        loader = way(layout.line, _name_of(layout, step), _name_of(layout, steps[index + 1])).loader
        layout.set(step, WAY_OUT=by_loader[loader] if loader else r.NONE, MOVES_DIRECTLY=loader is None)
    last = steps[len(steps) - 1]
    before = steps[len(steps) - 2]
    layout.set(before, ENDS_HERE=_name_of(layout, last) == "" and layout.floor[before + r.KIND] == r.STATION)


def _write_carriages(layout: Layout, steps: dict[int, int]) -> None:
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
        (
            layout.floor[layout.floor[s + r.FIRST_PLACE] + r.NUMBER]
            for s in steps.values()
            if _name_of(layout, s) == name
        ),
        0,
    )


def _write_stops(layout: Layout, carriage: int, loader: Loader, steps: dict[int, int]) -> None:
    """The carriage's stops in route order, with the times between and at them; it starts at the first in the file."""
    positions: list[float] = []
    times: list[int] = []
    served: list[int] = []
    numbers = [-1] * len(layout.owners)
    for step in steps.values():
        name = _name_of(layout, step)
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
        name = _name_of(layout, step)
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
    by_name = {_name_of(layout, step): step for step in steps.values()}
    a_round = [by_name[name] for name in named if name in by_name]
    layout.set(carriage, ROUND=layout.write(a_round), N_ROUND=len(a_round))


# ---- crews, breakdowns and stops ------------------------------------------------------------------------------------------


def _write_crews(layout: Layout) -> None:
    """Crews get their addresses here; their clients follow with the breakdowns and stops."""
    crews = layout.line.crews
    layout.floor[r.N_CREWS] = len(crews)
    layout.floor[r.CREWS] = first = layout.room(r.CREW_SIZE * len(crews))
    for n, (name, crew) in enumerate(crews.items()):
        record = first + n * r.CREW_SIZE
        layout.crews[name] = record
        layout.set(record, PEOPLE=crew.people, FREE=crew.people)


def _write_stoppages(layout: Layout) -> None:
    """Breakdowns and stops of every machine in route order, then of every carriage."""
    owned: list[tuple[int, str, str, Breakdown | Stop]] = []
    for machine, (_, name) in layout.machines.items():
        station = layout.line.stations[name]
        owned += [(machine, "breakdown", cause, item) for cause, item in station.breakdowns.items()]
        owned += [(machine, kind, stop, item) for kind in STOP_KINDS for stop, item in getattr(station, kind).items()]
    for carriage, name in layout.carriages.items():
        breakdowns = layout.line.loaders[name].breakdowns
        owned += [(carriage, "breakdown", cause, item) for cause, item in breakdowns.items()]
    layout.floor[r.N_STOPPAGES] = len(owned)
    layout.floor[r.STOPPAGES] = first = layout.room(r.STOPPAGE_SIZE * len(owned))
    for n, (owner, kind, name, item) in enumerate(owned):
        record = first + n * r.STOPPAGE_SIZE
        if not layout.floor[owner + r.N_OWN_STOPPAGES]:
            layout.set(owner, OWN_STOPPAGES=record)
        layout.floor[owner + r.N_OWN_STOPPAGES] += 1
        layout.set(record, OWNER=owner, STOPPAGE_NUMBER=n, CREW=layout.crews[item.crew] if item.crew else r.NONE)
        _write_stoppage(layout, record, kind, name, item)
    for name, crew in layout.crews.items():
        clients = [s.record for s, (*_, item) in zip(layout.stoppages, owned, strict=True) if item.crew == name]
        layout.set(crew, CLIENTS=layout.write(clients), N_CLIENTS=len(clients), CREW_NUMBER=len(layout.owners))
        layout.owners.append(Owner(name, "crew", name))


def _write_stoppage(layout: Layout, record: int, kind: str, name: str, item: Breakdown | Stop) -> None:
    owner = layout.owners[layout.floor[layout.floor[record + r.OWNER] + r.NUMBER]]
    response = layout.line.crews[item.crew].response if item.crew else Constant(0.0)
    clock = r.BY_WORKING_CLOCK if item.clock == "working" else r.BY_CALENDAR_CLOCK
    layout.set(record, RESPONDS=response != Constant(0.0), TRIGGER=clock)
    interval: Distribution | None
    start_age: int | None = 0
    if isinstance(item, Breakdown):
        interval, takes = item.mtbf, item.mttr
        layout.set(record, IS_BREAKDOWN=1, EFFECT=EFFECTS[item.part])
    else:
        takes = item.takes
        layout.set(record, BOOKED_AS=STOP_STATES[kind], OVERLAPS=item.overlaps == "loading")
        by_count = isinstance(item.every, int)
        every = item.every if by_count else to_us(item.every)
        interval = None if by_count else Constant(float(item.every))
        layout.set(record, EVERY=every)
        if by_count:
            layout.set(record, TRIGGER=r.BY_COUNT)
        start_age = None if item.age is None else int(item.age) if by_count else to_us(item.age)
    layout.stoppages.append(Stoppage(record, owner, kind, name, interval, takes, response, start_age))


# ---- inspection, rework loops, lists --------------------------------------------------------------------------------------


def _write_inspections(layout: Layout, steps: dict[int, int]) -> None:
    by_name = {_name_of(layout, step): step for step in steps.values()}
    loops = []
    for name, step in layout.stations.items():
        inspection = layout.line.stations[name].inspection
        if inspection:
            _write_inspection(layout, step, inspection)
            if inspection.rework:
                back = by_name[inspection.rework.to]
                loader = way(layout.line, name, inspection.rework.to).loader
                carriages = {loader_name: record for record, loader_name in layout.carriages.items()}
                layout.set(step, REWORK_TO=back, REWORKS_AT_MOST=inspection.rework.at_most)
                layout.set(step, REWORK_WAY=carriages[loader] if loader else r.NONE)
                if loader is None:
                    layout.set(step, MOVES_DIRECTLY=1)
                loops.append((back, step))
    layout.floor[r.N_LOOPS] = len(loops)
    layout.floor[r.LOOPS] = first = layout.room(r.LOOP_SIZE * len(loops))
    for n, (back, step) in enumerate(loops):
        inside = [s for s in steps.values() if back <= s <= step]
        count = sum(_count_places(layout, s) for s in inside)
        ends = {"LOOP_FROM": layout.floor[back + r.INDEX], "LOOP_TO": layout.floor[step + r.INDEX]}
        layout.set(first + n * r.LOOP_SIZE, LOOP_PLACES=count, **ends)


def _write_inspection(layout: Layout, step: int, inspection: Inspection) -> None:
    layout.set(step, INSPECTS=1, CATCHES=round(inspection.catches * CHANCE_SCALE))
    layout.set(step, FALSE_ALARMS=round(inspection.false_alarms * CHANCE_SCALE))


def _count_places(layout: Layout, step: int) -> int:
    """How many parts can rest at a step."""
    first = layout.floor[step + r.FIRST_PLACE]
    if layout.floor[step + r.KIND] == r.BUFFER:
        return layout.floor[first + r.CAPACITY]
    return layout.floor[step + r.N_PLACES]


def _write_lists(layout: Layout) -> None:
    """Room for the lists of the header, for the parts and for the rows that leave the floor."""
    floor = layout.floor
    steps, stoppages = floor[r.N_STEPS], floor[r.N_STOPPAGES]
    for name in ("MOVES", "STALE", "CHANGED", "IN_VIEW"):
        floor[getattr(r, name)] = layout.room(steps)
    floor[r.READY] = layout.room(stoppages)
    owners = len(layout.owners) + stoppages
    floor[r.WAKES] = layout.room(2 * 4 * owners)
    parts = (
        sum(_count_places(layout, floor[r.STEPS] + n * r.STEP_SIZE) for n in range(steps))
        + 2 * len(layout.carriages)
        + 2
    )
    slots = layout.room(parts * r.PART_SIZE)
    floor[r.SLOTS], floor[r.N_SLOTS] = layout.write(slots + n * r.PART_SIZE for n in reversed(range(parts))), parts
    floor[r.WIP_TIME] = layout.room(parts + 1)
    # One decision writes a few rows a place and stoppage at the most; the engine takes rows away after each.
    layout.rows_kept = ROWS_KEPT + 64 * owners + 4 * parts
    floor[r.TRACE_AT] = layout.room(TRACE_WIDTH * layout.rows_kept)
    floor[r.DEPARTURES_AT] = layout.room(DEPARTURE_WIDTH * layout.rows_kept)
    floor[r.SPELLS_AT] = layout.room(SPELL_WIDTH * layout.rows_kept)
