"""The part of the audit that looks at parts that stay too long: scrapped as their operation ends, and no others."""

from __future__ import annotations

from linesim.engine.contract.ledger import to_us
from linesim.engine.contract.trace import Trace, What
from linesim.line.model import OVERSTAY, Line


def check_overstay(trace: Trace, line: Line) -> None:
    rows = trace.rows.tolist()
    limit_us: dict[tuple[int, int], int] = {}  # machine, part -> when it must have ended
    late: set[int] = set()  # parts that may have the defect
    for at, (time_us, what, owner, part, value) in enumerate(rows):
        station = line.stations.get(trace.owners[owner].group)
        where = f"part {part} of {trace.owners[owner].name} at {time_us} us"
        if what == What.START and station and station.overstay is not None:
            limit_us[owner, part] = time_us + value + to_us(station.overstay)
        elif what == What.END and station and station.overstay is not None:
            if time_us > limit_us.pop((owner, part)):
                gone = [row[1] for row in rows[at + 1 :] if row[3] == part][:2]
                assert {What.SCRAP, What.SET_ASIDE} & set(gone), f"{where}: too long inside, but goes on"
                late.add(part)
        elif what == What.SCRAP and value >= 0 and trace.defects[value][1] == OVERSTAY:
            assert part in late, f"{where}: not inside for too long"
