"""The part of the audit that looks at samples for drawers: which parts become one, and when a drawer is opened."""

from __future__ import annotations

from collections import defaultdict

from linesim.engine.contract.ledger import Ledger, to_us
from linesim.engine.contract.trace import Trace, What
from linesim.line.model import Line, Samples

TOLD = (What.READ, What.CORRECT)  # rows between the end of an operation and what becomes of its part
REJECTED = (What.SCRAP, What.REWORK)


def check_drawers(ledger: Ledger, trace: Trace, line: Line) -> None:
    """Every good part that is due as a sample becomes one, unless its drawer has no place for it; no other does."""
    rows = trace.rows.tolist()
    since: dict[int, int] = defaultdict(int)  # machine -> good parts since its last sample
    last_us: dict[int, int] = {}
    ended_us: dict[int, int] = {}
    first_after: set[int] = set()  # machines that had a stop after which the first good part is a sample
    promised: dict[int, int] = defaultdict(int)  # drawer -> parts in it or on their way
    skipped: dict[str, int] = dict.fromkeys(line.stations, 0)
    for at, (time_us, what, owner, part, value) in enumerate(rows):
        station = trace.owners[owner].group
        samples = line.stations[station].samples if station in line.stations else None
        if what == What.STOCK and trace.owners[owner].kind == "drawer":
            promised[owner] = sum(drawer == owner for drawer in _on_the_way(rows, trace, at).values())
        elif what == What.STOP_OVER and samples and trace.stoppages[value][2] in samples.after:
            first_after.add(owner)
        elif what == What.END and samples:
            after = next((row for row in rows[at + 1 :] if row[1] not in TOLD), [0, -1, 0, -1, 0])
            mine = after[3] == part and after[0] == time_us
            to_chute = mine and after[1] == What.SET_ASIDE and trace.owners[after[4]].kind == "chute"
            pause_us = time_us - ended_us.get(owner, 0)
            ended_us[owner] = time_us
            if to_chute or (mine and after[1] in REJECTED):
                continue
            since[owner] += 1
            due = _is_due(samples, since[owner], owner not in last_us, time_us - last_us.get(owner, 0))
            due = due or owner in first_after or 0 < to_us(samples.after_pause or 0) <= pause_us
            first_after -= {owner} if due else set()
            told = mine and after[1] in (What.SET_ASIDE, What.SKIPPED)
            assert told == due, f"part {part} at {time_us} us is {'no ' * due}sample"
            if due:
                since[owner], last_us[owner] = 0, time_us
                room = line.drawers[samples.to].capacity - promised[after[4]]
                assert (after[1] == What.SET_ASIDE) == (room > 0), f"part {part} at {time_us} us: room for {room}"
                promised[after[4]] += after[1] == What.SET_ASIDE
                skipped[station] += after[1] == What.SKIPPED and time_us >= ledger.warmup_us
    assert dict(zip(ledger.stations["station"], ledger.stations["skipped"], strict=True)) == skipped, "skipped samples"
    _check_openings(trace, line)


def _is_due(samples: Samples, parts: int, first: bool, passed_us: int) -> bool:
    if samples.every is None:
        return False
    if first:
        return True
    return parts >= samples.every if isinstance(samples.every, int) else passed_us >= to_us(samples.every)


def _on_the_way(rows: list[list[int]], trace: Trace, until: int) -> dict[int, int]:
    """Part -> drawer of those that had been set aside before a row and are not there yet."""
    found: dict[int, int] = {}
    for _, what, owner, part, value in rows[:until]:
        if what == What.SET_ASIDE:
            found[part] = value
        elif what == What.ARRIVE and trace.owners[owner].kind == "drawer":
            del found[part]
    return found


def _check_openings(trace: Trace, line: Line) -> None:
    """A drawer that is emptied at a level calls in the instant in which it has so many parts, and is empty after it."""
    for number, (_, kind, name) in enumerate(trace.stoppages):
        if kind != "drawer":
            continue
        level, called, at = 0, False, line.drawers[name].emptied.at
        for time_us, what, owner, _, value in trace.rows.tolist():
            mine = trace.owners[owner].name == name
            if what == What.ARRIVE and mine:
                level += 1
                assert level <= line.drawers[name].capacity, f"{name} is too full at {time_us} us"
            elif what == What.STOCK and mine:
                assert value == 0, f"{name} is not empty after it was emptied"
                level, called = 0, False
            elif what == What.STOP and value == number:
                assert at is None or level >= at, f"{name} calls with {level} parts at {time_us} us"
                called = True
            assert at is None or level < at or called or what == What.ARRIVE, f"{name} does not call at {time_us} us"
