"""The part of the audit that looks at loaders which a stop of a machine holds: meanwhile they do nothing else."""

from __future__ import annotations

from linesim.engine.contract.ledger import CarriageState, MachineState
from linesim.engine.contract.trace import Trace, What
from linesim.line.carriers import owner_name
from linesim.line.machines import each_machine
from linesim.line.model import STOP_KINDS, Line
from linesim.line.ways import serving
from tests.helpers.books_of_owners import STATE_OF_STOP
from tests.helpers.replay import Story

MEANWHILE = (
    *(CarriageState.HANDLING, CarriageState.UNDER_REPAIR, CarriageState.WAITING_REPAIR),
    CarriageState.OFF_SHIFT,  # it was down at the end of its shift, or the machine stands off shift in its stop
)
HIDING = (  # states of a machine that go before its stop, which people see to meanwhile
    *(MachineState.WAITING_REPAIR, MachineState.UNDER_REPAIR),
    *(MachineState.OFF_SHIFT, MachineState.PLANNED_STOP),
)
SET_OFF = (What.LEG, What.GIVE_WAY, What.TOUR)


def check_held_loaders(trace: Trace, story: Story, line: Line) -> None:
    """While such a stop is under way its loader neither moves nor handles, and one stop at a time holds it."""
    stops = range(len(trace.stoppages))
    holds = {number: carriage for number in stops if (carriage := _holds(trace, line, number)) >= 0}
    stopped: dict[int, int] = {}  # machine -> stop that has it
    held: dict[int, int] = {}  # carriage -> machine whose stop is seen to hold it
    states: dict[int, int] = {}
    for time_us, what, owner, _, value in trace.rows.tolist():
        where = f"{trace.owners[owner].name} at {time_us} us"
        if what == What.STATE:
            states[owner] = value
        if what == What.STOP and value in holds:
            stopped[owner] = value
        elif what == What.STOP_OVER and value in holds:
            carriage = holds[value]
            seen = held.get(carriage) == owner
            assert seen or states[owner] in HIDING, f"{where}: a stop ends that did not hold its loader"
            if seen:
                del held[carriage]
            del stopped[owner]
        elif what == What.STATE and owner in stopped and value == _state(trace, stopped[owner]):
            carriage = holds[stopped[owner]]
            assert held.get(carriage, owner) == owner, f"{where}: its loader is held by another machine"
            held[carriage] = owner
        elif what == What.STATE and owner in held:
            assert value in MEANWHILE, f"{where}: {CarriageState(value).name} while it is held"
        assert what not in SET_OFF or owner not in held, f"{where}: sets off while it is held"
        moves = what in (What.LEAVE, What.ARRIVE)
        assert not moves or value not in held, f"{where}: handled by a carriage that is held"


def _state(trace: Trace, stoppage: int) -> MachineState:
    return STATE_OF_STOP[trace.stoppages[stoppage][1]]


def _holds(trace: Trace, line: Line, stoppage: int) -> int:
    """The carriage that a stop holds, or -1."""
    name, kind, stop = trace.stoppages[stoppage]
    owner = next(owner for owner in trace.owners if owner.name == name)
    if owner.kind != "machine" or kind not in (*STOP_KINDS, "breakage"):
        return -1
    machine = each_machine(owner.group, line.stations[owner.group])[name]
    if not getattr(machine, "tool_change" if kind == "breakage" else kind)[stop].holds:
        return -1
    carrier = serving(line, owner.group)
    assert carrier is not None
    return [each.name for each in trace.owners].index(owner_name(carrier))
