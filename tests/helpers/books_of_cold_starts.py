"""The part of the audit that looks at cold starts: one after each long stand, and none else."""

from __future__ import annotations

from linesim.engine.contract.ledger import MachineState, to_us
from linesim.engine.contract.trace import Trace, What
from linesim.line.model import ColdStart, Line

STANDING = (MachineState.OFF_SHIFT, MachineState.PLANNED_STOP)


def check_cold_starts(trace: Trace, line: Line) -> None:
    """A machine without cold starts never has one, and one that has them has them in their time."""
    for machine, owner in enumerate(trace.owners):
        if owner.kind == "machine":
            rows = [row for row in trace.rows.tolist() if row[2] == machine]
            start = line.stations[owner.group].cold_start
            if start is None:
                assert (owner.name, "cold_start", "cold_start") not in trace.stoppages
            else:
                _check_machine(rows, trace.stoppages.index((owner.name, "cold_start", "cold_start")), start, owner.name)


def _check_machine(rows: list[list[int]], number: int, start: ColdStart, name: str) -> None:
    stood_since = -1  # -1: it does not stand
    is_due, is_on = False, False  # a cold start waits for the machine; it has it
    for time_us, what, _, _, value in rows:
        if what == What.STOP and value == number:
            stands_us = time_us - stood_since if stood_since >= 0 else -1
            assert is_due or stands_us >= to_us(start.after), f"{name} has a cold start at {time_us} us, but is warm"
            is_due, is_on = False, True
        elif what == What.STOP_OVER and value == number:
            is_on = False
        elif what == What.STATE:
            if value in STANDING:
                stood_since = time_us if stood_since < 0 else stood_since
            elif stood_since >= 0:
                is_due = (is_due or time_us - stood_since >= to_us(start.after)) and not is_on
                stood_since = -1
        elif what == What.START:
            assert not is_due, f"{name} starts cold at {time_us} us"
