"""How machines and carriages spent their time."""

from __future__ import annotations

import pandas as pd

from linesim.engine.contract.ledger import CarriageState, Ledger, MachineState
from linesim.results.measures.planned import planned_of_carriage_us, planned_of_machine_us, ratio

IN_USE = (
    CarriageState.MOVING_EMPTY,
    CarriageState.MOVING_LOADED,
    CarriageState.HANDLING,
    CarriageState.WAITING_AT_MACHINE,
    CarriageState.WAITING_FOR_WAY,
    CarriageState.ZONE_OPEN,
)
MACHINE_STATES = [state.name.lower() for state in MachineState]
CARRIAGE_STATES = [state.name.lower() for state in CarriageState]
STATES = list(dict.fromkeys([*MACHINE_STATES, *CARRIAGE_STATES]))


def states(ledger: Ledger) -> pd.DataFrame:
    """A row a machine and carriage, a column a state: shares of planned time; NaN for a state that it can't be in.

    Time off shift and in planned stops is given as a share of planned time too; the others add up to 1.
    """
    rows = []
    for owner in ledger.owners:
        if owner.kind in ("machine", "carriage"):
            names = MACHINE_STATES if owner.kind == "machine" else CARRIAGE_STATES
            times_us = ledger.states[owner.name]
            whole = planned_of_machine_us(times_us) if owner.kind == "machine" else planned_of_carriage_us(times_us)
            shares = {name: ratio(int(time_us), whole) for name, time_us in zip(names, times_us, strict=True)}
            rows.append({"owner": owner.name, "kind": owner.kind, "group": owner.group, **shares})
    return pd.DataFrame(rows, columns=["owner", "kind", "group", *STATES])


def loaders(ledger: Ledger) -> pd.DataFrame:
    """A row a carriage, a column a state of carriages, and `in_use`: shares of planned time."""
    table = states(ledger).query("kind == 'carriage'")[["owner", "group", *CARRIAGE_STATES]]
    table = table.rename(columns={"group": "loader"}).reset_index(drop=True)
    return table.assign(in_use=table[[state.name.lower() for state in IN_USE]].sum(axis=1))
