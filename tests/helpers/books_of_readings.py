"""The part of the audit that looks at gauges: what was read of which part, and what became of it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection

from linesim.engine.contract.ledger import Ledger
from linesim.engine.contract.trace import Trace, What
from linesim.line.model import Inspection, Line
from tests.helpers.books_of_sizes import is_out

Row = list[int]


def check_readings(ledger: Ledger, trace: Trace, line: Line) -> None:
    """Every reading stands in trace and ledger alike, is of the size that the part has, and rejects if it is out."""
    assert len(ledger.readings) == (trace.rows[:, 1] == What.READ).sum(), "readings differ from the trace"
    readings, made = iter(ledger.readings.tolist()), iter(ledger.sizes.tolist())
    sizes: dict[int, dict[int, tuple[int, int]]] = defaultdict(dict)  # part -> characteristic -> machine, size
    rows = trace.rows.tolist()
    for at, (time_us, what, owner, part, value) in enumerate(rows):
        where = f"reading of part {part} at {time_us} us"
        if what == What.SIZE:
            _, _, machine, number, size_nm, _ = next(made)
            sizes[part][number] = (machine, size_nm)
        elif what == What.READ:
            assert rows[at - 1][1] in (What.END, What.READ), f"{where}: not just after the end of the operation"
            row = next(readings)
            number = row[3]
            assert row == [time_us, part, owner, number, *sizes[part][number], value], f"{where}: {row}"
            gauge = _inspection(trace, line, owner).measures[ledger.characteristics[number][1]]
            assert gauge.grr or value == row[5], f"{where}: error of a gauge that has none"
            if is_out(ledger, line, number, value):
                assert _is_rejected(rows, at), f"{where}: out of tolerance, but not rejected"
        elif what == What.END:
            has = {ledger.characteristics[number][1] for number in sizes[part]}
            _check_count(rows, at, has & _inspection(trace, line, owner).measures.keys())


def _inspection(trace: Trace, line: Line, owner: int) -> Inspection:
    """What the station of this machine inspects."""
    return line.stations[trace.owners[owner].group].inspection or Inspection()


def _check_count(rows: list[Row], end: int, wanted: Collection[str]) -> None:
    """As an operation ends, all sizes are read that are measured there, unless too many strokes scrap the part."""
    count = 0
    while end + 1 + count < len(rows) and rows[end + 1 + count][1] == What.READ:
        count += 1
    given_up = end + 1 < len(rows) and rows[end + 1][1] == What.SCRAP
    assert count == len(wanted) or given_up, f"readings at {rows[end][0]} us: {count} of {sorted(wanted)}"


def _is_rejected(rows: list[Row], reading: int) -> bool:
    """The first row behind the readings says that the part is scrapped or goes back."""
    time_us, _, owner, part, _ = rows[reading]
    after = next(row for row in rows[reading:] if row[1] != What.READ)
    return after[1] in (What.SCRAP, What.REWORK) and [after[0], *after[2:4]] == [time_us, owner, part]
