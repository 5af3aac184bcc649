"""Crews, breakdowns and stops on the floor."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import Layout, Stoppage
from linesim.engine.contract.ledger import MachineState, Owner, to_us
from linesim.line.distributions import Constant, Distribution
from linesim.line.model import STOP_KINDS, Breakdown, Stop

STOP_STATES = {
    "tool_change": MachineState.TOOL_CHANGE,
    "dressing": MachineState.DRESSING,
    "measuring": MachineState.MEASURING_STOP,
    "cleaning": MachineState.CLEANING,
}
EFFECTS = {"resume": r.RESUME, "restart": r.RESTART, "scrap": r.SCRAP_PART}


def write_crews(layout: Layout) -> None:
    """Crews get their addresses here; their clients follow with the breakdowns and stops."""
    crews = layout.line.crews
    layout.floor[r.N_CREWS] = len(crews)
    layout.floor[r.CREWS] = first = layout.room(r.CREW_SIZE * len(crews))
    for n, (name, crew) in enumerate(crews.items()):
        record = first + n * r.CREW_SIZE
        layout.crews[name] = record
        layout.set(record, PEOPLE=crew.people, FREE=crew.people)


def write_stoppages(layout: Layout) -> None:
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
        every = int(item.every) if by_count else to_us(item.every)
        interval = None if by_count else Constant(float(item.every))
        layout.set(record, EVERY=every)
        if by_count:
            layout.set(record, TRIGGER=r.BY_COUNT)
        start_age = None if item.age is None else int(item.age) if by_count else to_us(item.age)
    layout.stoppages.append(Stoppage(record, owner, kind, name, interval, takes, response, start_age))
