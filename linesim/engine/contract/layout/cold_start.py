"""Cold starts on the floor."""

from __future__ import annotations

from linesim.engine.contract import records as r
from linesim.engine.contract.layout.form import Layout
from linesim.engine.contract.ledger import MachineState, to_us
from linesim.line.model import ColdStart


def write_cold_start(layout: Layout, record: int, given: ColdStart) -> None:
    """What makes a stop the cold start of its machine."""
    machine = layout.floor[record + r.OWNER]
    layout.set(machine, COLD_START=record)
    layout.set(
        record,
        BOOKED_AS=MachineState.CHANGEOVER,
        TRIGGER=r.BY_STANDING,
        EVERY=to_us(given.after),
        START_UP_SCRAP=given.scrap,
    )
    if given.scrap:
        layout.set(layout.floor[machine + r.STEP], MAY_SPOIL=1)
