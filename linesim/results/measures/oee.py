"""OEE of stations and of the line, and what a station could do if the others never made it wait."""

from __future__ import annotations

import pandas as pd

from linesim.engine.contract.ledger import US, Fate, Ledger, MachineState
from linesim.line.machines import each_machine, mean_cycle_s, parts_together
from linesim.line.model import Line, Station
from linesim.results.measures.output import count_left
from linesim.results.measures.planned import of_station_us, planned_of_machine_us, planned_us, ratio

OWN_STOPS = (
    MachineState.WAITING_REPAIR,
    MachineState.UNDER_REPAIR,
    MachineState.WAITING_SETTER,
    MachineState.TOOL_CHANGE,
    MachineState.DRESSING,
    MachineState.CHANGEOVER,
    MachineState.MEASURING_STOP,
    MachineState.CLEANING,
)


def oee_parts(planned_s: float, working_s: float, planned_cycle_s: float, made: float, good: float) -> dict[str, float]:
    """OEE and its three factors from planned time (PBT), working time (APT), planned cycle (PRI), PQ and GQ.

    Source: ISO 22400-2, as quoted in the machine-tool companion specification OPC 40501-1, annex C.
    """
    return {
        "availability": ratio(working_s, planned_s),
        "effectiveness": ratio(planned_cycle_s * made, working_s),
        "quality": ratio(good, made),
        "oee": ratio(planned_cycle_s * good, planned_s),
    }


def stations(ledger: Ledger, line: Line) -> pd.DataFrame:
    """A row a station in route order: counts, the parts of its OEE and its own availability.

    The planned cycle is `planned_cycle` if the file gives one, else the mean of `cycle`, strokes included; of a batch a
    part's share. Of unequal machines their mean over the parts that each made. A reworked part was not good
    when it was made, and lowers the quality of the station that it is charged to as a scrapped one does.
    """
    rows = []
    for station, made, scrapped, reworked, false_alarms, _ in ledger.of_stations:
        states_us = of_station_us(ledger, station)
        working_us = int(states_us[MachineState.WORKING])
        stopped_us = int(sum(states_us[state] for state in OWN_STOPS))
        of_line = line.stations[station]
        cycle_s = _planned_cycle_s(ledger, station, of_line)
        parts = oee_parts(
            planned_of_machine_us(states_us) / US, working_us / US, cycle_s, made, max(0, made - scrapped - reworked)
        )
        rows.append(
            {
                "station": station,
                "machines": of_line.machines,
                "processed_parts": made,
                "scrapped_parts": scrapped,
                "reworked_parts": reworked,
                "false_alarm_parts": false_alarms,
                **parts,
                "own_availability": ratio(working_us, working_us + stopped_us),
            }
        )
    return pd.DataFrame(rows)


def _planned_cycle_s(ledger: Ledger, station: str, of_line: Station) -> float:
    made = {machine.machine: machine.processed for machine in ledger.of_machines}
    machines = each_machine(station, of_line)
    planned_s = [mean_cycle_s(own) if own.planned_cycle is None else own.planned_cycle for own in machines.values()]
    cycles_s = [cycle_s / parts_together(of_line) for cycle_s in planned_s]
    parts = [made[name] for name in machines]
    if len(set(cycles_s)) == 1 or sum(parts) == 0:
        return sum(cycles_s) / len(cycles_s)
    return sum(count * cycle_s for count, cycle_s in zip(parts, cycles_s, strict=True)) / sum(parts)


def line_oee(ledger: Ledger, ideal_interval_s: float) -> float:
    """Good parts x ideal interval of the pace stage [s] / planned time."""
    return ratio(count_left(ledger, Fate.GOOD) * ideal_interval_s * US, planned_us(ledger))
