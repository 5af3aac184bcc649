"""The tables of lines side by side: each by itself, what sets them apart, what a step buys, where it breaks even."""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from typing import Any

from linesim.line.model import Line
from linesim.line.money import part_cost, planned_hours_a_year
from linesim.line.paying_back import against
from linesim.report.sheets import CHANGE, COUNT, PERCENT, TEXT, Cell, Column, Sheet
from linesim.results import Comparison
from linesim.results.demand import MET, NOT_MET
from linesim.results.demand import NOT_SHOWN as NOT_SHOWN_TO_MEET
from linesim.results.differences import NOT_SHOWN, paired
from linesim.results.intervals import Estimate
from linesim.results.labels import IN_PERCENT, NAMED_MEASURES, in_unit, label, shown_in, time_unit

OUTPUT, COST, LEAD_TIME = "throughput_per_h", "cost_per_good_part", "lead_time_mean_s"
SET_APART = (OUTPUT, COST, LEAD_TIME, "wip_parts", "line_oee", "scrapped_parts", "energy_per_good_part_kwh")
LEAST_LOSS_PER_H = 0.005
REACHES = {MET: "reaches that", NOT_MET: "stays below", NOT_SHOWN_TO_MEET: "is not shown to reach that or not"}

Lines = Mapping[str, Line | None]


def lines(comparison: Comparison) -> Sheet:
    """A row a line: what comes out, whether that is enough, how long parts stay, what it costs."""
    currency = comparison.about["currency"]
    length, unit = time_unit(comparison.results[comparison.names[0]].estimate(LEAD_TIME).mean)
    columns = [
        Column("line", form=TEXT),
        Column("output", "good parts/h"),
        Column("replications", form=COUNT),
        Column("demand", "parts/h"),
        Column("demand met", form=TEXT),
        Column("line OEE", form=PERCENT),
        Column("WIP", "parts"),
        Column("lead time", unit),
        Column("cost of a good part", currency),
        Column("investment", f"k {currency}"),
    ]
    rows: list[list[Cell]] = []
    invested = comparison.investments()
    for name, each in comparison.results.items():
        price = invested[name]
        rows.append(
            [
                name,
                each.estimate(OUTPUT),
                len(each.about["replications"]),
                each.about["demand_per_h"],
                each.demand_verdict(),
                each.estimate("line_oee"),
                each.estimate("wip_parts"),
                in_unit(each.estimate(LEAD_TIME), length),
                each.estimate(COST),
                None if price is None else price / 1000,
            ]
        )
    return Sheet("The lines, each by itself", columns, rows).without_empty()


def differences(comparison: Comparison) -> Sheet:
    """Each line less the base, measure by measure; measures that no line has are left out."""
    base, currency = comparison.names[0], comparison.about["currency"]
    lead_time_s = comparison.results[base].estimate(LEAD_TIME).mean
    rows: list[list[Cell]] = []
    for measure in SET_APART:
        table = comparison.differences(measure)
        scale, unit = shown_in(measure, lead_time_s, currency)
        unit = "percentage points" if measure in IN_PERCENT else unit
        for row in table.to_dict("records") if table["replications"].any() else ():
            found = Estimate(row["mean"], row["low"], row["high"], int(row["replications"]))
            rows.append([NAMED_MEASURES[measure], row["line"], in_unit(found, scale), unit, row["shown"]])
    columns = [
        Column("measure", form=TEXT),
        Column("line", form=TEXT),
        Column("difference", form=CHANGE, unlike=True),
        Column("unit", form=TEXT),
        Column("shown", form=TEXT),
    ]
    together = ", which hold together within a measure" if len(comparison.names) > 2 else ""
    return Sheet(f"Each line less “{base}”", columns, rows, f"Paired 95 % intervals{together}.")


def losses(comparison: Comparison) -> Sheet:
    """Loss bridges side by side; each is that of the line's own pace stage."""
    found = {
        name: each.averages("losses", "step", "parts_per_h").set_index("step")["mean"]
        for name, each in comparison.results.items()
    }
    steps = list(dict.fromkeys(step for table in found.values() for step in table.index))
    shown = [step for step in steps if max(abs(table.get(step, 0.0)) for table in found.values()) >= LEAST_LOSS_PER_H]
    rows: list[list[Cell]] = [["pace stage", *(each.about["pace_stage"] for each in comparison.results.values())]]
    rows += [[label(step), *(float(table.get(step, 0.0)) for table in found.values())] for step in shown]
    columns = [Column("step", form=TEXT), *(Column(name, "parts/h") for name in comparison.names)]
    return Sheet("Where output is lost, side by side", columns, rows)


def steps(comparison: Comparison) -> Sheet | None:
    """What each step buys: lines by rising investment, each with what it has more than the cheaper one before it."""
    priced = {name: price for name, price in comparison.investments().items() if price is not None}
    if len(priced) < 2:
        return None
    currency = comparison.about["currency"]
    order = sorted(priced, key=lambda name: priced[name])
    rows: list[list[Cell]] = []
    for before, name in itertools.pairwise(order):
        one, other = (comparison.results[each].replications.set_index("replication")[OUTPUT] for each in (name, before))
        more, extra = paired(one, other), priced[name] - priced[before]
        per_part = extra / 1000 / more.mean if more.shown != NOT_SHOWN and more.mean > 0 else None
        gain = Estimate(more.mean, more.low, more.high, more.replications)
        rows.append([f"from {before} to {name}", extra / 1000, gain, more.shown, per_part])
    columns = [
        Column("step", form=TEXT),
        Column("more investment", f"k {currency}", CHANGE),
        Column("more output", "good parts/h", CHANGE),
        Column("shown", form=TEXT),
        Column("investment for one good part/h more", f"k {currency}"),
    ]
    return Sheet("What each step buys", columns, rows, "In order of investment; each interval by itself.")


def paying(comparison: Comparison, known: Lines) -> Sheet | None:
    """Whether an alternative pays at the volume that the base asks for; None where money or demand is not given."""
    base = known[comparison.names[0]]
    rows: list[list[Cell]] = []
    for name in comparison.names[1:]:
        line = known[name]
        if base is None or line is None:
            continue
        try:
            told = against(base, line)
        except ValueError:  # money or demand is missing, or differs
            continue
        years = told.payback_years
        back = (
            "nothing more is invested" if years is None else "never" if years == float("inf") else f"{years:.1f} years"
        )
        rows.append([name, told.extra_investment / 1000, told.saving_a_year / 1000, told.npv / 1000, back])
    if not rows:
        return None
    currency = comparison.about["currency"]
    columns = [
        Column("line", form=TEXT),
        Column("more investment", f"k {currency}", CHANGE),
        Column("saving", f"k {currency} a year", CHANGE),
        Column("net present value", f"k {currency}", CHANGE),
        Column("simple payback", form=TEXT),
    ]
    note = (
        "Both lines at the volume that the base's demand asks for, from the cost sheet, whether or not the simulated "
        "output reaches it. Simple payback knows no interest: it screens and does not decide."
    )
    return Sheet(f"Whether it pays, beside “{comparison.names[0]}”", columns, rows, note)


def break_even(comparison: Comparison, known: Lines) -> list[str]:
    """From which output on a part of an alternative costs no more than one of the base does, in sentences."""
    base = comparison.names[0]
    cost_now = comparison.results[base].estimate(COST).mean
    told = []
    for name in comparison.names[1:]:
        line, results = known[name], comparison.results[name]
        made = results.estimate(OUTPUT)
        if line is None or line.money is None or line.demand is None or not cost_now > 0 or not made.mean > 0:
            continue
        needed = _output_for_cost(line, results.replications, cost_now)
        if needed is None:
            told.append(f"{name} costs more a part at any output than the base does now.")
            continue
        words = f"{name} costs no more a part than the base does now from {needed:.2f} good parts/h on"
        reach = (
            "reaches that"
            if made.low >= needed
            else "stays below"
            if made.high < needed
            else "may or may not reach that"
        )
        interval = f" ({made.low:.2f} to {made.high:.2f})" if made.replications > 1 else ""
        told.append(f"{words}; it makes {made.mean:.2f}{interval} and {reach}.")
    return told


def _output_for_cost(line: Line, replications: Any, cost: float) -> float | None:
    """Good parts an hour at which a good part costs so much; None if it never does.

    With c(v) the cost at v parts a year: c(v) = a / v + b, since scrap is a share of everything else.
    """
    made = replications["good_parts"].sum()
    scrapped = float(replications["scrapped_parts"].sum() / made)
    energy = replications["energy_per_good_part_kwh"].mean()
    one, two = (part_cost(line, volume, scrapped, float(energy)).conversion for volume in (1e5, 2e5))
    slope = (one - two) / (1 / 1e5 - 1 / 2e5)
    least = two - slope / 2e5
    return None if cost <= least else slope / (cost - least) / planned_hours_a_year(line)
