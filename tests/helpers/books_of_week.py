"""The part of the audit that looks at shifts: nobody begins anything off duty, and states and times keep to the week.

The week is worked out here again, instant by instant and with dates, apart from the engine's table of edges.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from linesim.engine.contract.ledger import Ledger, MachineState, Owner
from linesim.engine.contract.trace import Trace, What
from linesim.line.model import Line, Shift
from tests.helpers.books_of_crews import called_of
from tests.helpers.books_of_hands import ToursByHand
from tests.helpers.replay import Story, time_at

MONDAY = datetime(2024, 1, 1)
ON_DUTY, IN_BREAK, OFF = 0, 1, 2
STATE_OF_DUTY = {IN_BREAK: MachineState.PLANNED_STOP, OFF: MachineState.OFF_SHIFT}
MAY_FINISH = {
    MachineState.WORKING,
    MachineState.TOOL_CHANGE,
    MachineState.DRESSING,
    MachineState.MEASURING_STOP,
    MachineState.CLEANING,
    MachineState.CHANGEOVER,
}


def duty_at(line: Line, names: Iterable[str], through_breaks: bool, time_us: int) -> int:
    """What the week says at this time for whoever works in these shifts (all if none is named)."""
    now = MONDAY + timedelta(microseconds=time_us)
    found = ON_DUTY if not line.shifts else OFF
    for name in names or line.shifts:
        for begin, end, shift in _spans(line.shifts[name], now):
            if begin <= now < end:
                found = IN_BREAK if _in_break(shift, begin, now) and not through_breaks else ON_DUTY
    return IN_BREAK if found == ON_DUTY and stands(line, time_us) else found


def stands(line: Line, time_us: int) -> bool:
    """Whether the line stands for a planned stop."""
    now = MONDAY + timedelta(microseconds=time_us)
    return any(
        (midnight := _midnight(now) - timedelta(days=ago)).weekday() in stop.days
        and timedelta(0) <= now - midnight - timedelta(seconds=stop.at) < timedelta(seconds=stop.takes)
        for stop in line.planned_stops.values()
        for ago in range(8)
    )


def people_at(line: Line, crew: str, time_us: int) -> int:
    """People of a crew who take calls at this time."""
    now = MONDAY + timedelta(microseconds=time_us)
    people = line.crews[crew].people
    if isinstance(people, int):
        people = dict.fromkeys(line.crews[crew].shifts or line.shifts or [""], people)
    if not line.shifts:
        return people[""]
    for name in people:
        for begin, end, shift in _spans(line.shifts[name], now):
            if begin <= now < end and not _in_break(shift, begin, now):
                return people[name]
    return 0


def check_week(ledger: Ledger, trace: Trace, story: Story, line: Line) -> None:
    """Raise AssertionError at the first row or state that does not keep to the week."""
    for owner in (owner for owner in trace.owners if owner.kind in ("machine", "carriage")):
        _check_states(ledger, trace, story, line, owner)
    at_work: dict[int, int] = {}  # breakdown, stop or call to carry -> crew
    ends = ToursByHand(trace)
    for time_us, what, number, _, value in trace.rows.tolist():
        owner = trace.owners[number]
        where = f"{owner.name} at {time_us} us"
        ends.hear(what, number, value)
        if what == What.TOUR or (what == What.START and not line.stations[owner.group].through_feed):
            assert _duty(line, owner, time_us) == ON_DUTY, f"{where} begins something off duty"
        elif what == What.CREW:
            at_work[value] = number
            busy = sum(called_of(line, trace, it).people for it, crew in at_work.items() if crew == number)
            assert busy <= people_at(line, owner.name, time_us), f"{where}: more calls than people on duty"
        elif what in (What.REPAIRED, What.STOP_OVER):
            at_work.pop(value, None)
        elif what == What.ARRIVE and (job := ends.job_over(number, value)) >= 0:
            at_work.pop(job)
        elif what == What.DUTY:
            told = people_at(line, owner.name, time_us) if owner.kind == "crew" else _duty(line, owner, time_us)
            assert value == told, f"{where}: duty {value}, the week says {told}"
    _check_planned(ledger, line)
    _check_time_on_duty(ledger, trace, line)


def _check_states(ledger: Ledger, trace: Trace, story: Story, line: Line, owner: Owner) -> None:
    changes = story.states[trace.owners.index(owner)]
    duty_changes = {
        time_us
        for time_us, what, number, *_ in trace.rows.tolist()
        if what == What.DUTY and trace.owners[number] == owner
    }
    instants = sorted({*duty_changes, *(time_us for time_us, _ in changes)})
    for time_us in instants:
        state = [value for at, value in changes if at <= time_us][-1]
        duty = _duty(line, owner, time_us)
        if owner.kind == "carriage":
            assert state != 0 or duty != ON_DUTY, f"{owner.name} is off shift on duty at {time_us} us"
            continue
        closed = state in (MachineState.OFF_SHIFT, MachineState.PLANNED_STOP)
        if duty == ON_DUTY:
            assert not closed, f"{owner.name} is closed on duty at {time_us} us"
            continue
        pauses = line.stations[owner.group].at_shift_end == "pause"
        allowed = {STATE_OF_DUTY[duty]} | (set() if pauses else MAY_FINISH)
        assert state in allowed, f"{owner.name} is {MachineState(state).name} off duty at {time_us} us"


def _check_planned(ledger: Ledger, line: Line) -> None:
    assert ledger.planned.shape[1:] == (2,)
    for begin_us, end_us in ledger.planned.tolist():
        assert duty_at(line, (), False, begin_us) == ON_DUTY, f"planned from {begin_us} us on"
        assert duty_at(line, (), False, end_us - 1) == ON_DUTY, f"planned up to {end_us} us"
        assert end_us == ledger.horizon_us or duty_at(line, (), False, end_us) != ON_DUTY, f"goes on at {end_us} us"
        assert begin_us == 0 or duty_at(line, (), False, begin_us - 1) != ON_DUTY, f"began before {begin_us} us"


def _check_time_on_duty(ledger: Ledger, trace: Trace, line: Line) -> None:
    for row in ledger.crews.to_dict("records"):
        name = str(row["crew"])
        number = next(n for n, owner in enumerate(trace.owners) if owner.kind == "crew" and owner.name == name)
        told = [(0, line.crews[name].most_people)]
        told += [(t, value) for t, what, o, _, value in trace.rows.tolist() if what == What.DUTY and o == number]
        spent = time_at(told, ledger.warmup_us, ledger.horizon_us, line.crews[name].most_people + 1)
        assert row["duty_us"] == sum(people * int(time) for people, time in enumerate(spent)), f"time on duty of {name}"


def _duty(line: Line, owner: Owner, time_us: int) -> int:
    if owner.kind == "carriage" and owner.group not in line.loaders:  # hands
        return duty_at(line, (), False, time_us)
    of_line = line.loaders[owner.group] if owner.kind == "carriage" else line.stations[owner.group]
    return duty_at(line, of_line.shifts, of_line.through_breaks, time_us)


def _spans(shift: Shift, now: datetime) -> list[tuple[datetime, datetime, Shift]]:
    """The shifts of this kind that began today, yesterday or the day before."""
    found = []
    for ago in range(3):
        midnight = _midnight(now) - timedelta(days=ago)
        if midnight.weekday() in shift.days:
            begin, end = midnight + timedelta(seconds=shift.begin), midnight + timedelta(seconds=shift.end)
            found.append((begin, end if end > begin else end + timedelta(days=1), shift))
    return found


def _in_break(shift: Shift, begin: datetime, now: datetime) -> bool:
    midnight = _midnight(begin)
    for pause in shift.breaks.values():
        at = midnight + timedelta(seconds=pause.at)
        at = at if at >= begin else at + timedelta(days=1)
        if at <= now < at + timedelta(seconds=pause.takes):
            return True
    return False


def _midnight(when: datetime) -> datetime:
    return when.replace(hour=0, minute=0, second=0, microsecond=0)
