"""The part of the audit that looks at start-up scrap: the parts made first after a stop are scrapped as they end."""

from __future__ import annotations

from collections import defaultdict

from linesim.engine.contract.trace import Trace, What
from linesim.line.machines import each_machine
from linesim.line.model import STOP_KINDS, Line


def check_start_up(trace: Trace, line: Line) -> None:
    """After each stop that asks for it, so many operations of its machine end in scrap."""
    due: dict[int, int] = defaultdict(int)
    rows = trace.rows.tolist()
    for at, (time_us, what, owner, part, value) in enumerate(rows):
        if what == What.STOP_OVER and trace.owners[owner].kind == "machine":
            due[owner] = max(due[owner], _start_up_scrap(trace, line, owner, value))
        elif what == What.END and due[owner]:
            due[owner] -= 1
            assert rows[at + 1][1] in (What.SCRAP, What.SET_ASIDE), f"part {part} at {time_us} us is not scrapped"
            assert rows[at + 1][2:4] == [owner, part], f"part {part} at {time_us} us is not scrapped"


def _start_up_scrap(trace: Trace, line: Line, owner: int, stoppage: int) -> int:
    name, station = trace.owners[owner].name, trace.owners[owner].group
    _, kind, stop = trace.stoppages[stoppage]
    machine = each_machine(station, line.stations[station])[name]
    if kind == "cold_start" and machine.cold_start:
        return machine.cold_start.scrap
    if kind not in (*STOP_KINDS, "breakage"):
        return 0
    stops = machine.tool_change if kind == "breakage" else getattr(machine, kind)
    scrap: int = stops[stop].start_up_scrap
    return scrap
