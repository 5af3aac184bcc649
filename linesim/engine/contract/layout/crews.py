"""Crews, breakdowns and stops on the floor."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.cold_start import write_cold_start
from linesim.engine.contract.layout.ends import end_jobs
from linesim.engine.contract.layout.form import Layout, Stoppage
from linesim.engine.contract.layout.part_types import write_takes
from linesim.engine.contract.layout.tool_life import write_breakage, write_wear
from linesim.engine.contract.ledger import CarriageState, MachineState, Owner, to_us
from linesim.line.aside import drawers_of
from linesim.line.carriers import carriers
from linesim.line.distributions import Constant
from linesim.line.hands import hands
from linesim.line.machines import each_machine
from linesim.line.model import PRIORITIES, Breakdown, Called, Changeover, ColdStart, EndJob, Stop, Zone
from linesim.line.tool_life import stops_of
from linesim.line.units import Dressings
from linesim.line.ways import serving

STOP_STATES: dict[str, MachineState | CarriageState] = {
    "tool_change": MachineState.TOOL_CHANGE,
    "dressing": MachineState.DRESSING,
    "measuring": MachineState.MEASURING_STOP,
    "cleaning": MachineState.CLEANING,
    "zone": CarriageState.ZONE_OPEN,
    "breakage": MachineState.TOOL_CHANGE,
}
Stopping = Breakdown | ColdStart | Stop | Changeover | Zone | EndJob | Called
EFFECTS = {"resume": r.RESUME, "restart": r.RESTART, "scrap": r.SCRAP_PART}


def write_crews(layout: Layout) -> None:
    """Crews get their addresses here; their clients follow with the breakdowns and stops."""
    crews = layout.line.crews
    layout.floor[r.N_CREWS] = len(crews)
    layout.floor[r.CREWS] = first = layout.room(r.CREW_SIZE * len(crews))
    for n, (name, crew) in enumerate(crews.items()):
        record = first + n * r.CREW_SIZE
        layout.crews[name] = record
        layout.set(record, PEOPLE=crew.most_people, FREE=crew.most_people, ALL_BUSY_SINCE=-1)


def write_stoppages(layout: Layout) -> None:
    """Breakdowns and stops of every machine in route order, then of every carriage; then refill and emptying, and at
    last what calls people who load by hand."""
    line = layout.line
    owned: list[tuple[int, str, str, Stopping]] = []
    for machine, (own_name, name) in layout.machines.items():
        station = each_machine(name, layout.line.stations[name])[own_name]
        owned += [(machine, "breakdown", cause, item) for cause, item in station.breakdowns.items()]
        if station.cold_start:
            owned.append((machine, "cold_start", "cold_start", station.cold_start))
        owned += [(machine, *stop) for stop in stops_of(station)]
        owned += [(machine, "changeover", "parts", station.changeover)] if station.changeover else []
    by_hand = hands(layout.line)
    for carriage, name in layout.carriages.items():
        if name in by_hand:
            continue
        loader = carriers(layout.line)[name]
        owned += [(carriage, "breakdown", cause, item) for cause, item in loader.breakdowns.items()]
        owned += [(carriage, "zone", zone, item) for zone, item in loader.zone.items()]
        emptied = [(carriage, "drawer", drawer, line.drawers[drawer].emptied) for drawer in drawers_of(line, name)]
        layout.set(carriage, ZONES=len(loader.zone) + len(emptied))
        owned += emptied
    owned += end_jobs(layout)
    owned += [(c, "by_hand", "parts", by_hand[name].called) for c, name in layout.carriages.items() if name in by_hand]
    layout.floor[r.N_STOPPAGES] = len(owned)
    layout.floor[r.STOPPAGES] = first = layout.room(r.STOPPAGE_SIZE * len(owned))
    for n, (owner, kind, name, item) in enumerate(owned):
        record = first + n * r.STOPPAGE_SIZE
        if not layout.floor[owner + r.N_OWN_STOPPAGES]:
            layout.set(owner, OWN_STOPPAGES=record)
        layout.floor[owner + r.N_OWN_STOPPAGES] += 1
        layout.set(record, OWNER=owner, STOPPAGE_NUMBER=n)
        _write_stoppage(layout, record, kind, name, item)
        _write_called(layout, layout.stoppages[-1], item)
    write_wear(layout)
    _write_held(layout)
    for name, crew in layout.crews.items():
        clients = [s.record for s, (*_, item) in zip(layout.stoppages, owned, strict=True) if name in item.crew]
        layout.set(crew, CLIENTS=layout.write(clients), N_CLIENTS=len(clients), CREW_NUMBER=len(layout.owners))
        layout.owners.append(Owner(name, "crew", name))


def _write_stoppage(layout: Layout, record: int, kind: str, name: str, item: Stopping) -> None:
    owner = layout.owners[layout.floor[layout.floor[record + r.OWNER] + r.NUMBER]]
    start_age: int | None = 0
    if isinstance(item, EndJob):
        if kind == "drawer":
            drawer = layout.floor[layout.aside[name] + r.FIRST_PLACE]
            layout.set(record, EMPTIES=drawer, BOOKED_AS=CarriageState.ZONE_OPEN)
            layout.set(drawer, OPENED_BY=record)
        else:
            layout.set(layout.floor[record + r.OWNER], END_JOB=record)
        if item.at is not None:
            layout.set(record, TRIGGER=r.BY_LEVEL, EVERY=item.at)
        elif item.every is not None:
            layout.set(record, TRIGGER=r.BY_CALENDAR_CLOCK, EVERY=to_us(item.every))
        takes, interval = item.takes, -1
    elif isinstance(item, Changeover):
        layout.set(layout.floor[record + r.OWNER], CHANGEOVER=record, SET_UP_FOR=-1)
        layout.set(record, BOOKED_AS=MachineState.CHANGEOVER, TRIGGER=r.BY_PART)
        layout.set(record, TAKES_TABLE=write_takes(layout, owner.name, item))
        takes, interval = None, -1
    elif isinstance(item, ColdStart):
        takes, interval = item.takes, -1
        write_cold_start(layout, record, item)
    elif kind == "by_hand":
        layout.set(layout.floor[record + r.OWNER], HAND_JOB=record)
        layout.set(record, TRIGGER=r.BY_HAND)
        takes, interval = None, -1
    elif isinstance(item, Breakdown):
        clock = r.BY_WORKING_CLOCK if item.clock == "working" else r.BY_CALENDAR_CLOCK
        layout.set(record, IS_BREAKDOWN=1, TRIGGER=clock, EFFECT=EFFECTS[item.part])
        takes = item.mttr
        interval = layout.add_stream(owner.name, f"{kind}.{name}.interval", item.mtbf)
    elif isinstance(item, Stop | Zone):
        clock = r.BY_WORKING_CLOCK if item.clock == "working" else r.BY_CALENDAR_CLOCK
        layout.set(record, BOOKED_AS=STOP_STATES[kind], OVERLAPS=isinstance(item, Stop) and item.overlaps == "loading")
        takes = item.takes
        interval = -1
        if isinstance(item, Stop) and item.holds:
            _, station = layout.machines[layout.floor[record + r.OWNER]]
            by_name = {name: carriage for carriage, name in layout.carriages.items()}
            layout.set(record, HOLDS=by_name[serving(layout.line, station) or ""])
        if isinstance(item, Stop) and owner.kind == "machine":
            samples = layout.line.stations[owner.group].samples
            layout.set(record, SAMPLED_AFTER=samples is not None and name in samples.after)
        if isinstance(item, Stop) and item.start_up_scrap:
            layout.set(record, START_UP_SCRAP=item.start_up_scrap)
            layout.set(layout.floor[layout.floor[record + r.OWNER] + r.STEP], MAY_SPOIL=1)
        if isinstance(item, Stop) and kind == "breakage":
            interval = write_breakage(layout, record, name, item)
        elif item.every is not None:
            by_count = r.BY_DRESSINGS if isinstance(item.every, Dressings) else r.BY_COUNT
            layout.set(record, TRIGGER=by_count if isinstance(item.every, int) else clock, EVERY=_amount(item.every))
            has_life = isinstance(item, Stop) and item.life is not None
            start_age = 0 if has_life else None if item.age is None else _amount(item.age)
    takes_stream = layout.add_stream(owner.name, f"{kind}.{name}.takes", takes) if takes else -1
    layout.set(record, INTERVAL_STREAM=interval, TAKES_STREAM=takes_stream)
    layout.stoppages.append(Stoppage(record, owner, kind, name, start_age))


def _write_held(layout: Layout) -> None:
    """Each carriage learns which stops of machines hold it."""
    for carriage in layout.carriages:
        held = [stop.record for stop in layout.stoppages if layout.floor[stop.record + r.HOLDS] == carriage]
        layout.set(carriage, HELD_BY=layout.write(held), N_HELD_BY=len(held))
        layout.floor[carriage + r.ZONES] += len(held)


def _write_called(layout: Layout, stoppage: Stoppage, called: Called) -> None:
    """Who may be called. Where one of several crews needs time to come, all have a response; that of others is zero."""
    laws = [layout.line.crews[name].response for name in called.crew]
    responds = any(law != Constant(0.0) for law in laws)
    choices = []
    for n, (name, law) in enumerate(zip(called.crew, laws, strict=True)):
        purpose = f"{stoppage.kind}.{stoppage.name}.response" + (f".{name}" if n else "")
        choices += [layout.crews[name], layout.add_stream(stoppage.owner.name, purpose, law) if responds else -1]
    layout.set(
        stoppage.record,
        CREW=choices[0] if choices else r.NONE,
        CHOICES=layout.write(choices),
        N_CHOICES=len(laws),
        RESPONDS=responds,
        RESPONSE_STREAM=choices[1] if choices else -1,
        URGENCY=PRIORITIES.index(called.priority),
        NEEDS=called.people,
    )
    if len(laws) > 1 or called.people > 1:
        layout.floor[r.SKILLS] = 1


def _amount(given: int | float) -> int:
    """Parts, or a time in microseconds."""
    return given if isinstance(given, int) else to_us(given)
