"""What a line costs: its investment, and the cost of a good part row by row, at any output.

Common practice in costing machines. The rows are those of conversion, so the blank stands beside them: depreciation
over the life, interest on half the investment (the mean of what is tied up), upkeep as a share of it, space, labour,
energy, tooling (what stops cost, and what else parts use up), and scrap. A scrapped part costs its blank and the
conversion that was put into it, as if it had gone the whole way; that is right for a gauge at the end, and too much for
one before the dear steps.
"""

from __future__ import annotations

from dataclasses import dataclass

from linesim.line.calendar import has_calendar, person_h_per_week
from linesim.line.capacity import entering_per_h
from linesim.line.demand import planned_h_per_year, weeks_per_year
from linesim.line.machines import each_machine
from linesim.line.model import Crew, Line, Money
from linesim.line.paying_back import annuity
from linesim.line.power import rough_energy_kwh
from linesim.line.stop_costs import stop_costs_per_good_part

YEARLY = ("depreciation", "interest", "upkeep", "space", "labour")  # whatever comes out
ITEMS = (*YEARLY, "energy", "tooling", "scrap")  # the rows, in their order


@dataclass(frozen=True)
class PartCost:
    """Cost of a good part [currency]. rows: by item of ITEMS, adding up to the conversion cost.

    annuity_and_running: annuity of the investment and running cost, the equivalent annual cost, for a good part;
    running: without the annuity. Both without the blank of the good part itself, but with those of scrapped ones.
    """

    rows: dict[str, float]
    blank: float
    running: float
    annuity_and_running: float

    @property
    def conversion(self) -> float:
        return sum(self.rows.values())


def prices(line: Line) -> dict[str, float]:
    """Price of all machines, buffers, ends, loaders and drawers together, by kind [currency]."""
    buffers = (buffer.price + buffer.price_per_place * buffer.capacity for buffer in line.buffers.values())
    machines = (each for name, station in line.stations.items() for each in each_machine(name, station).values())
    drawers = {"drawers": sum(drawer.price for drawer in line.drawers.values())} if line.drawers else {}
    return {
        "machines": sum((machine.price for machine in machines), 0.0),
        "loaders": sum((loader.price for loader in line.loaders.values()), 0.0),
        "buffers": sum(buffers, 0.0),
        "infeed and outfeed": sum((end.price for ends in (line.infeed, line.outfeed) for end in ends.values()), 0.0),
    } | drawers


def investment(line: Line) -> float:
    """All prices with installation [currency]."""
    return sum(prices(line).values()) * (1 + _money(line).installation)


def yearly_costs(line: Line) -> dict[str, float]:
    """Costs a year that do not depend on the output [currency], by item of YEARLY; needs a demand for planned hours.

    Labour: hours on duty x share paid x wages, of everybody in every crew; without shifts they are the planned hours.
    """
    money, invested = _money(line), investment(line)
    paid_h = sum(crew.paid * person_h_per_year(line, crew) for crew in line.crews.values())
    return {
        "depreciation": invested / money.life,
        "interest": invested * money.interest / 2,
        "upkeep": invested * money.upkeep,
        "space": money.floor * money.rent,
        "labour": paid_h * money.wages,
    }


def planned_hours_a_year(line: Line) -> float:
    hours = planned_h_per_year(line)
    if hours is None:
        raise ValueError("the cost of a part needs the planned hours of a year: give the line a demand")
    return hours


def person_h_per_year(line: Line, crew: Crew) -> float:
    """Hours a year that the people of a crew are on duty, all together; without shifts the planned hours of each."""
    if not has_calendar(line):
        return crew.most_people * planned_hours_a_year(line)
    return person_h_per_week(line, crew) * weeks_per_year(line)


def part_cost(
    line: Line, good_parts_a_year: float, scrapped_per_good: float, energy_kwh: float | None, stop_costs: float = 0.0
) -> PartCost:
    """Cost of a good part at an output.

    energy_kwh, stop_costs: what all parts used, scrapped ones too, for a good part [kWh], [currency]. Each part bears
    the same share of it, and the row of scrap has that of scrapped ones, so nothing counts twice. Energy None takes
    `money.energy` for each part. Raises ValueError for a line without money or demand.
    """
    money, yearly = _money(line), yearly_costs(line)
    rows = {item: cost / good_parts_a_year for item, cost in yearly.items()}
    parts = 1 + scrapped_per_good  # that bear what all of them used
    rows["energy"] = (money.energy if energy_kwh is None else energy_kwh / parts) * money.electricity
    rows["tooling"] = money.tooling + stop_costs / parts
    for_part = rows["energy"] + rows["tooling"]
    running = sum(rows[item] for item in ("upkeep", "space", "labour")) + for_part
    running += scrapped_per_good * (money.blank + for_part)
    rows["scrap"] = scrapped_per_good * (money.blank + sum(rows.values()))
    capital = annuity(investment(line), money.interest, money.life) / good_parts_a_year
    return PartCost(rows, money.blank, running, capital + running)


def cost_at_demand(line: Line) -> PartCost | None:
    """Cost of a good part at the demanded volume, rejects as in the rough-cut sheet; None without money or demand."""
    if line.money is None or line.demand is None:
        return None
    started = (entering_per_h(line) or 0.0) * planned_hours_a_year(line) / line.demand.volume
    stop_costs = sum(stop_costs_per_good_part(line).values())
    return part_cost(line, line.demand.volume, started - 1, rough_energy_kwh(line), stop_costs)


def _money(line: Line) -> Money:
    if line.money is None:
        raise ValueError("the line has no money: give it prices, wages and the rest under money")
    return line.money
