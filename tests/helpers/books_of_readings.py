"""The part of the audit that looks at gauges: what was read of which part, and what became of it."""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Mapping

from linesim.engine.contract.ledger import Ledger
from linesim.engine.contract.trace import Trace, What
from linesim.line.machines import each_machine
from linesim.line.model import STOP_KINDS, Line, Station
from tests.helpers.books_of_corrections import Corrections
from tests.helpers.books_of_samples import Samples
from tests.helpers.books_of_sizes import is_out

Row = list[int]
GAUGED = (What.READ, What.CORRECT)
Sizes = Mapping[int, tuple[int, int]]  # of a part: characteristic -> machine that made it, size


def check_readings(ledger: Ledger, trace: Trace, line: Line) -> None:
    """Every reading stands in trace and ledger alike, is of the size that the part has, and rejects if it is out."""
    readings, made = iter(ledger.readings.tolist()), iter(ledger.sizes.tolist())
    sizes: dict[int, dict[int, tuple[int, int]]] = defaultdict(dict)
    samples, corrections = Samples(trace, line), Corrections(ledger, line)
    rows = trace.rows.tolist()
    for at, (_, what, owner, part, value) in enumerate(rows):
        if what == What.SIZE:
            _, _, machine, number, size_nm, _ = next(made)
            sizes[part][number] = (machine, size_nm)
            samples.made(at, ledger.characteristics[number][1])
            corrections.made(owner, part, number)
        elif what == What.STOP_OVER and trace.owners[owner].kind == "machine":
            samples.renewed(owner, value)
            corrections.renewed(owner, trace.stoppages[value][2])
        elif what == What.START:
            corrections.started(owner)
        elif what == What.READ:
            assert rows[at - 1][1] in (What.END, *GAUGED), f"row {at}: not just after the end of an operation"
        elif what == What.END and line.stations[trace.owners[owner].group].inspection:
            told = list(itertools.takewhile(lambda row: row[1] in GAUGED, itertools.islice(rows, at + 1, None)))
            read = [row for row in told if row[1] == What.READ]
            booked = list(itertools.islice(readings, len(read)))
            corrections.check(owner, [row for row in told if row[1] == What.CORRECT], booked)
            _check_reading(ledger, trace, line, rows[at], read, booked, sizes[part])
            if any(is_out(ledger, line, row[3], row[6]) for row in booked):
                after = rows[at + 1 + len(told)]
                assert after[1] in (What.SCRAP, What.SET_ASIDE, What.REWORK), (
                    f"part {part} read as bad, but not rejected"
                )
                assert after[3] == part, f"part {after[3]} rejected for part {part}"
            _check_samples(ledger, trace, line, samples, at, {row[3] for row in booked}, sizes[part])


def _check_reading(
    ledger: Ledger, trace: Trace, line: Line, end: Row, read: list[Row], booked: list[Row], sizes: Sizes
) -> None:
    """What trace and ledger say was read as an operation ended is a size that the part has, and the gauge's error."""
    time_us, _, owner, part, _ = end
    gauges = _station(trace, line, owner)
    for told, row in zip(read, booked, strict=True):
        number, value = row[3], told[4]
        assert row == [time_us, part, owner, number, *sizes[number], value, row[7]], f"reading of part {part}: {row}"
        assert told[2:4] == [owner, part], f"reading of part {part}: {told}"
        gauge = gauges.inspection.measures[ledger.characteristics[number][1]] if gauges.inspection else None
        assert gauge, f"{owner} measures no {ledger.characteristics[number]}"
        assert gauge.grr or value == sizes[number][1], f"reading of part {part}: an error of a gauge that has none"


def _check_samples(
    ledger: Ledger, trace: Trace, line: Line, samples: Samples, end: int, read: set[int], sizes: Sizes
) -> None:
    """As an operation ends, those sizes are read that are to be. (Not told where it may have spoilt the part.)"""
    owner = int(trace.rows[end, 2])
    station, gauge = _station(trace, line, owner), trace.owners[owner].group
    if _may_spoil(gauge, station) or not station.inspection:
        return
    for number, (maker, _) in sizes.items():
        name = ledger.characteristics[number][1]
        if name in station.inspection.measures:
            samples.check(station.inspection.measures[name].sample, gauge, name, maker, end, number in read)


def _station(trace: Trace, line: Line, owner: int) -> Station:
    return line.stations[trace.owners[owner].group]


def _may_spoil(name: str, station: Station) -> bool:
    """Whether the end of an operation may scrap its part before it is measured."""
    stops = [stop for own in each_machine(name, station).values() for kind in STOP_KINDS
             for stop in getattr(own, kind).values()]  # fmt: skip
    return (
        station.strokes is not None
        or station.cold_start is not None
        or station.overstay is not None
        or any(stop.life or stop.start_up_scrap for stop in stops)
    )
