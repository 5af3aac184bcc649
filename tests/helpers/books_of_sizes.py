"""The part of the audit that looks at sizes: what machines were set to, what they made, and what that was called."""

from __future__ import annotations

from collections import defaultdict

from linesim.engine.contract.ledger import Ledger
from linesim.engine.contract.trace import Trace, What
from linesim.line.model import Line
from tests.helpers.books_of_corrections import outlasts_tools


def check_sizes(ledger: Ledger, trace: Trace, line: Line) -> None:
    """Every size stands in trace and ledger alike; tools wear part by part and are renewed; bad sizes are defects."""
    told = [
        [time_us, part, owner, value] for time_us, what, owner, part, value in trace.rows.tolist() if what == What.SIZE
    ]
    assert ledger.sizes[:, [0, 1, 2, 4]].tolist() == told, "sizes differ from the trace"
    names = [(station, name) for station in line.route for name in _sizes_of(line, station)]
    assert list(ledger.characteristics) == names
    assert len(ledger.readings) == (trace.rows[:, 1] == What.READ).sum(), "readings differ from the trace"
    _check_settings(ledger, trace, line)
    _check_defects(ledger, trace, line)


def _sizes_of(line: Line, station: str) -> list[str]:
    return list(line.stations[station].characteristics) if station in line.stations else []


def _check_settings(ledger: Ledger, trace: Trace, line: Line) -> None:
    """What a machine is set to: exactly known from the first renewal on, before it from one part to the next."""
    rows, readings = iter(ledger.sizes.tolist()), iter(ledger.readings.tolist())
    read = -1  # characteristic that was read last
    corrections: dict[tuple[int, int], int] = defaultdict(int)  # machine, characteristic -> pm in all
    begun_with: dict[tuple[int, int], int] = {}  # of them, what the running operation was begun with
    renewed: dict[tuple[int, int], tuple[int, float]] = {}  # machine, characteristic -> parts since, step [um]
    last: dict[tuple[int, int], float] = {}  # setting without correction [nm]
    for _, what, owner, _, value in trace.rows.tolist():
        if what == What.READ:
            read = next(readings)[3]
        elif what == What.CORRECT:
            corrections[owner, read] = value
        elif what == What.START:
            begun_with |= {(owner, n): corrections[owner, n] for n in range(len(ledger.characteristics))}
        elif what == What.STOP_OVER and trace.owners[owner].kind == "machine":
            station = line.stations[trace.owners[owner].group]
            for number, (name, characteristic) in enumerate(ledger.characteristics):
                if name == trace.owners[owner].group:
                    after = station.characteristics[characteristic].after
                    if trace.stoppages[value][2] in after:
                        renewed[owner, number] = (0, after[trace.stoppages[value][2]])
                        if not outlasts_tools(line, characteristic):
                            corrections[owner, number] = 0
        elif what == What.SIZE:
            _, _, _, number, _, set_to_nm = next(rows)
            name, characteristic = ledger.characteristics[number]
            given = line.stations[name].characteristics[characteristic]
            key = (owner, number)
            if key in renewed:
                worn, step = renewed[key]
                moved_nm = (round(1e6 * given.drift) * worn + begun_with[key] + 500) // 1000  # half a nanometre up
                assert set_to_nm == _nm(given.offset) + _nm(step) + moved_nm, f"setting of {key}"
                renewed[key] = (worn + 1, step)
            elif key in last:
                uncorrected_nm = set_to_nm - begun_with[key] / 1000
                assert abs(uncorrected_nm - last[key] - 1000 * given.drift) <= 1, f"setting of {key}"
            last[key] = set_to_nm - begun_with[key] / 1000


def _check_defects(ledger: Ledger, trace: Trace, line: Line) -> None:
    """A part that an operation gave a bad size, and no other defect, has the first of them as its defect."""
    rows = iter(ledger.sizes.tolist())
    sizes: dict[int, list[tuple[int, int]]] = defaultdict(list)  # machine -> characteristic, size of the running part
    for time_us, what, owner, _, value in trace.rows.tolist():
        if what == What.SIZE:
            _, _, _, number, size_nm, _ = next(rows)
            sizes[owner].append((number, size_nm))
        elif what == What.END:
            name = trace.owners[owner].group
            made = sizes.pop(owner, [])
            assert len(made) == len(line.stations[name].characteristics), f"sizes made at {time_us} us in {name}"
            bad = [ledger.characteristics[number] for number, size_nm in made if is_out(ledger, line, number, size_nm)]
            by_chance = [(name, defect) for defect in line.stations[name].defects]
            defect = ledger.defects[value] if value >= 0 else None
            assert defect in by_chance or defect == (bad[0] if bad else None), f"defect at {time_us} us in {name}"


def is_out(ledger: Ledger, line: Line, number: int, size_nm: int) -> bool:
    """Whether a size, or a reading, of the characteristic of this number is out of tolerance."""
    station, name = ledger.characteristics[number]
    tolerance = line.stations[station].characteristics[name].tolerance
    return not _nm(tolerance.low) <= size_nm <= _nm(tolerance.high)


def _nm(um: float) -> int:
    return int(1000 * um + 0.5) if um >= 0 else -int(0.5 - 1000 * um)
