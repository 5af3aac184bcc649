"""The cost sheet of a line in words: investment, and the cost of a good part at the demanded volume."""

from __future__ import annotations

from collections.abc import Iterator

from linesim.line.model import Line
from linesim.line.money import cost_at_demand, investment, planned_hours_a_year, prices
from linesim.line.stop_costs import stop_costs_per_good_part


def money_lines(line: Line) -> Iterator[str]:
    """The sheet line by line; nothing for a line without money."""
    if line.money is None:
        return
    money = line.money
    yield f"Money ({money.currency})"
    parts = ", ".join(f"{kind} {price / 1000:,.0f} k" for kind, price in prices(line).items() if price)
    installed = f"installation {100 * money.installation:g} %"
    yield f"  investment {investment(line) / 1000:,.0f} k: {parts or 'no prices'}, {installed}"
    cost = cost_at_demand(line)
    if cost is None or line.demand is None:
        yield "  cost per good part: not defined without a demand"
        return
    yield f"  cost of a good part at {line.demand.volume:,.0f} a year in {planned_hours_a_year(line):,.0f} h"
    for item, value in cost.rows.items():
        yield f"    {item:<16}{value:>9.2f}"
        if item == "tooling":
            yield from _stop_lines(line)
    yield f"    {'conversion':<16}{cost.conversion:>9.2f}   with blank {cost.conversion + cost.blank:.2f}"
    yearly_k = cost.annuity_and_running * line.demand.volume / 1000
    years = f"{money.life:g} years at {100 * money.interest:g} %"
    each = f"{cost.annuity_and_running:.2f} a good part"
    yield f"  equivalent annual cost {yearly_k:,.0f} k ({each}), {years}, without blanks"


def _stop_lines(line: Line) -> Iterator[str]:
    """What each stop has to do with the row of tooling; scrapped parts' tools are in it here."""
    for (station, kind, name), cost in stop_costs_per_good_part(line).items():
        what = f"{station}, {kind.replace('_', ' ')} {name}"
        yield f"      of it {what:<30}{cost:>7.3f}"
