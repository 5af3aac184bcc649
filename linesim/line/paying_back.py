"""Whether an investment pays: annuity, net present value and simple payback, and one line set against another.

Standard formulas of engineering economy. Simple payback knows neither the time value of money nor what comes after it:
it screens and does not decide.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from linesim.line.model import Line


@dataclass(frozen=True)
class Against:
    """An alternative set against a base at the same output; money in the currency of the lines.

    extra_investment: of the alternative; saving_a_year: running cost of the base less that of the alternative;
    npv: net present value of the one for the other, at the alternative's interest over its life; payback_years: None if
    nothing more is invested, inf if it never pays back.
    """

    extra_investment: float
    saving_a_year: float
    npv: float
    payback_years: float | None


def annuity(investment: float, interest: float, years: float) -> float:
    """The equal yearly payment that is worth the investment: I r / (1 - (1 + r)^-n); I / n without interest."""
    if interest == 0:
        return investment / years
    return investment * interest / (1 - (1 + interest) ** -years)


def net_present_value(
    investment: float, income_a_year: float, interest: float, years: float, residual: float = 0.0
) -> float:
    """-I + what an equal income at the end of each year is worth today + residual value at the end of the life."""
    worth = income_a_year * (years if interest == 0 else (1 - (1 + interest) ** -years) / interest)
    return worth - investment + residual * (1 + interest) ** -years


def simple_payback_years(investment: float, saving_a_year: float) -> float | None:
    """Investment / saving a year; None if nothing is invested, inf if nothing is saved."""
    if investment <= 0:
        return None
    return investment / saving_a_year if saving_a_year > 0 else math.inf


def against(base: Line, alternative: Line, residual: float = 0.0) -> Against:
    """Set an alternative against a base, both at the volume that the base's demand asks for.

    residual: what the alternative's extra equipment is worth after its life. Raises ValueError where a line lacks money
    or demand, or where currencies differ.
    """
    from linesim.line.money import cost_at_demand, investment

    now, then, money = cost_at_demand(base), cost_at_demand(alternative), alternative.money
    if not (now and then and base.demand and base.money and alternative.demand and money):
        raise ValueError("both lines need money and a demand")
    if base.money.currency != money.currency:
        raise ValueError(f"currencies differ: {base.money.currency} and {money.currency}")
    if base.demand.volume != alternative.demand.volume:
        raise ValueError(f"demands differ: {base.demand.volume:g} and {alternative.demand.volume:g} parts a year")
    extra = investment(alternative) - investment(base)
    saving = (now.running - then.running) * base.demand.volume
    return Against(
        extra_investment=extra,
        saving_a_year=saving,
        npv=net_present_value(extra, saving, money.interest, money.life, residual),
        payback_years=simple_payback_years(extra, saving),
    )
