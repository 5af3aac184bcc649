"""Energy of machines and carriages: their power in each state times the time they spent in it."""

from __future__ import annotations

import pandas as pd

from linesim.engine.contract.ledger import HOUR_US, CarriageState, Ledger, MachineState
from linesim.line.model import Line
from linesim.line.power import CARRIAGE_WORDS, MACHINE_WORDS, has_power, power_by_state_kw


def energy(ledger: Ledger, line: Line) -> pd.DataFrame:
    """A row an owner with power and state it was in: owner, group, state, power_kw, kwh of the measured time."""
    return pd.DataFrame(_rows(ledger, line), columns=["owner", "group", "state", "power_kw", "kwh"])


def _rows(ledger: Ledger, line: Line) -> list[tuple[str, str, str, float, float]]:
    rows = []
    for owner in ledger.owners:
        if owner.group in line.stations:
            power = power_by_state_kw(line.stations[owner.group].power, MACHINE_WORDS)
            names = [state.name.lower() for state in MachineState]
        elif owner.kind == "carriage" and owner.group in line.loaders:
            power = power_by_state_kw(line.loaders[owner.group].power, CARRIAGE_WORDS)
            names = [state.name.lower() for state in CarriageState]
        else:
            continue
        if any(power.values()):
            for name, time_us in zip(names, ledger.states[owner.name], strict=True):
                if time_us:
                    kwh = power[name] * int(time_us) / HOUR_US
                    rows.append((owner.name, owner.group, name, power[name], kwh))
    return rows


def energy_per_good_part_kwh(ledger: Ledger, line: Line, good_parts: float) -> float:
    """Energy for a good part [kWh]: from times in states where a line has `power`, else as `money.energy` says.

    NaN if neither is given or nothing good was made.
    """
    if not good_parts:
        return float("nan")
    if has_power(line):
        return sum(row[-1] for row in _rows(ledger, line)) / good_parts
    return line.money.energy if line.money else float("nan")
