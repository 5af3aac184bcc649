"""The part of the audit that looks at part types: what enters, its cycles, and when machines change over."""

from __future__ import annotations

from collections import Counter
from itertools import cycle, islice

from linesim.engine.contract.ledger import Ledger, to_us
from linesim.engine.contract.trace import Trace, What
from linesim.line.distributions import Constant
from linesim.line.machines import each_machine
from linesim.line.model import Line, Station
from linesim.line.part_types import ByPart


def check_part_types(ledger: Ledger, trace: Trace, line: Line) -> None:
    """Every part that enters is of a type, in the order of the orders; machines are set up for it."""
    names = tuple(line.parts)
    assert ledger.part_types == trace.part_types == names
    told = {part: value for _, what, _, part, value in trace.rows.tolist() if what == What.PART_TYPE}
    entered = [
        part
        for _, what, owner, part, _ in trace.rows.tolist()
        if what == What.LEAVE and trace.owners[owner].kind == "infeed"
    ]
    assert list(told) == (entered if names else []), "a part enters without a type"
    if line.orders:
        ordered = cycle(names.index(order.part) for order in line.orders for _ in range(order.size))
        assert list(told.values()) == list(islice(ordered, len(told))), "parts come in another order than ordered"
    for number, name in enumerate(names):
        assert line.orders or line.parts[name].share or number not in told.values(), f"{name} has no share, but comes"
    assert all(told.get(row[1], -1) == row[7] for row in ledger.departures.tolist()), "types of the parts that left"
    for number, owner in enumerate(trace.owners):
        if owner.kind == "machine" and names:
            _check_machine(
                trace, number, each_machine(owner.group, line.stations[owner.group])[owner.name], told, names
            )


def _check_machine(trace: Trace, number: int, machine: Station, told: dict[int, int], names: tuple[str, ...]) -> None:
    """Between a part of one type and the next of another the machine changes over once, if the table says so."""
    own = [
        n for n, (of, kind, _) in enumerate(trace.stoppages) if (of, kind) == (trace.owners[number].name, "changeover")
    ]
    assert len(own) == (machine.changeover is not None)
    due: Counter[int] = Counter()  # changeovers that have still to end before the part starts
    last = -1
    for time_us, what, owner, part, value in trace.rows.tolist():
        if owner != number:
            continue
        where = f"{trace.owners[number].name}, part {part} at {time_us} us"
        if what == What.ARRIVE:
            kind, before, last = told[part], last, told[part]
            row = machine.changeover.takes.get(names[before], {}) if machine.changeover and before >= 0 else {}
            due[part] += kind != before and names[kind] in row
        elif what == What.STOP_OVER and value in own:
            due[part] -= 1
        elif what == What.START:
            assert due[part] == 0, f"{where}: starts without being set up, or is set up for nothing"
            law = machine.cycle.laws[names[told[part]]] if isinstance(machine.cycle, ByPart) else machine.cycle
            if isinstance(law, Constant) and machine.strokes is None and machine.through_feed is None:
                assert value == to_us(law.mean), f"{where}: a cycle of another type"
