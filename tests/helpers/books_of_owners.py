"""The part of the audit that looks at one machine or carriage at a time."""

from __future__ import annotations

from collections import defaultdict

from linesim.engine.contract.ledger import CarriageState, Ledger, MachineState, to_us
from linesim.engine.contract.trace import Trace, What
from linesim.line.machines import each_machine, mean_cycle_s
from linesim.line.model import Line
from tests.helpers.rails import carrier, check_rails
from tests.helpers.replay import Story, time_at
from tests.helpers.theory.motion import move_time_us

STATE_OF_STOP = {
    "tool_change": MachineState.TOOL_CHANGE,
    "dressing": MachineState.DRESSING,
    "measuring": MachineState.MEASURING_STOP,
    "cleaning": MachineState.CLEANING,
    "changeover": MachineState.CHANGEOVER,
    "breakage": MachineState.TOOL_CHANGE,
    "cold_start": MachineState.CHANGEOVER,
}


def check_operations(ledger: Ledger, trace: Trace, story: Story, line: Line) -> None:
    """Every operation gets exactly its time at work, counted from its last restart; operations are counted once."""
    begins_again = [_effect_of(line, trace, index) == "restart" for index in range(len(trace.stoppages))]
    started: dict[int, dict[int, tuple[int, int]]] = defaultdict(dict)  # machine -> part -> (start, duration)
    ended: dict[int, int] = defaultdict(int)
    for time_us, what, owner, part, value in trace.rows.tolist():
        if what == What.START:
            started[owner][part] = (time_us, value)
        elif what == What.FAIL and begins_again[value]:
            started[owner] = {each: (time_us, duration_us) for each, (_, duration_us) in started[owner].items()}
        elif what == What.CALL:
            assert part in started[owner], f"{trace.owners[owner].name} calls ahead with a part it has not in work"
            start_us, _ = started[owner][part]
            group = trace.owners[owner].group
            station = each_machine(group, line.stations[group])[trace.owners[owner].name]
            planned_s = mean_cycle_s(station) if station.planned_cycle is None else station.planned_cycle
            spent = time_at(story.states[owner], start_us, time_us, len(MachineState))[MachineState.WORKING]
            assert spent == to_us(max(0.0, planned_s - station.call_ahead)), (
                f"call ahead of part {part} at {time_us} us"
            )
        elif what in (What.SCRAP, What.SET_ASIDE):
            started[owner].pop(part, None)
        elif what == What.END:
            assert part in started[owner], (
                f"{trace.owners[owner].name} ends an operation on part {part} it didn't start"
            )
            start_us, duration_us = started[owner].pop(part)
            spent = time_at(story.states[owner], start_us, time_us, len(MachineState))
            assert spent[MachineState.WORKING] == duration_us, (
                f"{trace.owners[owner].name}, part {part}, from {start_us} to {time_us} us: "
                f"worked {spent[MachineState.WORKING]} us of {duration_us} us"
            )
            ended[owner] += int(time_us >= ledger.warmup_us)
    machines = [index for index, owner in enumerate(ledger.owners) if owner.kind == "machine"]
    by_name = dict(zip(ledger.machines["machine"], ledger.machines["processed"], strict=True))
    assert by_name == {ledger.owners[m].name: ended[m] for m in machines}, "operations ended, by machine"
    by_station: dict[str, int] = defaultdict(int)
    for machine in machines:
        by_station[ledger.owners[machine].group] += ended[machine]
    assert dict(zip(ledger.stations["station"], ledger.stations["processed"], strict=True)) == dict(by_station)
    assert ledger.visits == int((trace.rows[:, 1] == What.END).sum()), "visits"


def check_strokes(trace: Trace, line: Line) -> None:
    """A part that needs more strokes than its station makes is scrapped as the operation ends; no other for that."""
    needs: dict[int, int] = {}  # machine -> strokes that the part in work needs
    rejected = -1  # a part that must be scrapped in the row behind the end of its operation
    overdone: set[int] = set()
    for time_us, what, owner, part, value in trace.rows.tolist():
        station = line.stations.get(trace.owners[owner].group)
        strokes = station.strokes if station else None
        if rejected >= 0:
            assert what in (What.SCRAP, What.SET_ASIDE), f"part {rejected} is kept at {time_us} us, but needs more"
            assert part == rejected, f"part {part} is scrapped for part {rejected}"
            overdone.add(part)
            rejected = -1
        if what == What.STROKES:
            assert strokes is not None, "strokes at a station without"
            assert value in strokes.number, f"{value} strokes are none of the numbers given"
            needs[owner] = value
        elif what == What.END and strokes is not None:
            needed = needs.pop(owner)
            rejected = part if strokes.at_most is not None and needed > strokes.at_most else -1
        elif what == What.SCRAP:
            assert part not in overdone or value >= 0, "scrapped without a defect"
            defect = trace.defects[value] if value >= 0 else ("", "")
            makers = [name for name, it in line.stations.items() if it.strokes and defect == (name, it.strokes.defect)]
            assert not makers or part in overdone, f"part {part} is scrapped at {time_us} us for strokes not needed"


def check_stoppages(ledger: Ledger, trace: Trace) -> None:
    """Breakdowns and stops are counted when they begin; waiting and lasting add up to the states of their owners."""
    booked = ledger.stoppages
    told = [each for each in trace.stoppages if each[1] != "by_hand"]  # those are calls only, and stand at the end
    assert [*zip(booked["owner"], booked["kind"], booked["name"], strict=True)] == told
    begun = [0] * len(told)
    for time_us, what, _, _, value in trace.rows.tolist():
        if what in (What.FAIL, What.STOP, What.STOCK_CALL) and time_us >= ledger.warmup_us:
            begun[value] += 1
    assert booked["begun"].tolist() == begun, "stoppages begun"
    for owner in ledger.owners:
        if owner.kind not in ("machine", "carriage"):
            continue
        states = ledger.states[owner.name]
        own = booked[booked["owner"] == owner.name]
        repairs = own[own["kind"] == "breakdown"]
        kind = MachineState if owner.kind == "machine" else CarriageState
        assert repairs["waiting_us"].sum() == states[kind.WAITING_REPAIR], f"{owner.name} waiting for repair"
        assert repairs["lasting_us"].sum() == states[kind.UNDER_REPAIR], f"{owner.name} under repair"
        if owner.kind == "carriage":
            zones = own[own["kind"].isin(["zone", "drawer"])]
            assert zones["waiting_us"].sum() == 0
            assert zones["lasting_us"].sum() == states[CarriageState.ZONE_OPEN], f"open zones of {owner.name}"
        if owner.kind == "machine":
            stops = own[own["kind"] != "breakdown"]
            assert stops["waiting_us"].sum() == states[MachineState.WAITING_SETTER], f"{owner.name} waiting for setter"
            for state in STATE_OF_STOP.values():
                kinds = [stop for stop, booked_as in STATE_OF_STOP.items() if booked_as == state]
                lasting = own[own["kind"].isin(kinds)]["lasting_us"].sum()
                assert lasting == states[state], f"{owner.name} in {' or '.join(kinds)}"


def check_legs(trace: Trace, story: Story, line: Line) -> None:
    """Each leg of a carriage takes the time that its way needs, from where the last one ended; none meets another."""
    carriages = [index for index, owner in enumerate(trace.owners) if owner.group in line.loaders]
    at = {index: next(iter(carrier(line, trace.owners[index].name).stops.values())).at[0] for index in carriages}
    legs: dict[int, list[tuple[int, float, float]]] = {index: [] for index in carriages}
    for time_us, what, owner, place, value in trace.rows.tolist():
        if what in (What.LEG, What.GIVE_WAY):
            loader = carrier(line, trace.owners[owner].name)
            there = place / 1e6 if what == What.GIVE_WAY else _position(line, trace, owner, place)
            needed_us = move_time_us(abs(there - at[owner]), loader.speed, loader.acceleration)
            assert value == needed_us, (
                f"{trace.owners[owner].name} at {time_us} us from {at[owner]} m to {there} m in {value} us "
                f"instead of {needed_us} us"
            )
            legs[owner].append((time_us, at[owner], there))
            at[owner] = there
    check_rails(trace, story, line, legs)


def _effect_of(line: Line, trace: Trace, stoppage: int) -> str | None:
    """What a breakdown of a machine does to the part in work: "resume", "restart" or "scrap"."""
    owner_name, kind, name = trace.stoppages[stoppage]
    owner = next(owner for owner in trace.owners if owner.name == owner_name)
    if kind != "breakdown" or owner.kind != "machine":
        return None
    return each_machine(owner.group, line.stations[owner.group])[owner_name].breakdowns[name].part


def _position(line: Line, trace: Trace, carriage: int, place: int) -> float:
    """Where this carriage stops for a place [m]; the machines of a station have one position each."""
    owner = trace.owners[place]
    at = carrier(line, trace.owners[carriage].name).stops[owner.group].at
    if owner.kind != "machine" or len(at) == 1:
        return at[0]
    return at[list(each_machine(owner.group, line.stations[owner.group])).index(owner.name)]
