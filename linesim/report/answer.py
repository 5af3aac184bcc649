"""The answer of a run, first of all: what it makes, whether that is enough, what it costs, where it is lost."""

from __future__ import annotations

import math
from collections.abc import Iterator

from linesim.line.model import Line
from linesim.report.parts import Tile
from linesim.report.sheets import COUNT, FIGURE, PERCENT, interval, value
from linesim.results import Results
from linesim.results.demand import MET, NOT_MET
from linesim.results.intervals import Estimate, averaged
from linesim.results.labels import figure, in_unit, label, percent, time_unit

LOSSES_TOLD, LEAST_LOSS_PER_H = 3, 0.005
VERDICTS = {MET: "Demand is met.", NOT_MET: "Demand is not met."}
SCOPE = "Estimates of a model for the inputs given. They hold no more than the assumed data do."


def tiles(results: Results) -> list[Tile]:
    """The figures of the first screen, each with its interval."""
    about = results.about
    shown = [_tile("output", results.estimate("throughput_per_h"), FIGURE, "good parts/h")]
    if about["demand_per_h"] is not None:
        verdict = results.demand_verdict() or ""
        shown.append(Tile("demand", figure(about["demand_per_h"]), "parts/h", [verdict]))
    cost = results.estimate("cost_per_good_part")
    if cost.replications:
        shown.append(_tile("cost of a good part", cost, FIGURE, about["currency"], "without its blank"))
    if about.get("investment"):
        shown.append(Tile("investment", f"{about['investment'] / 1000:,.0f}", f"k {about['currency']}"))
    shown.append(_tile("line OEE", results.estimate("line_oee"), PERCENT))
    length, unit = time_unit(results.estimate("lead_time_mean_s").mean)
    shown.append(_tile("mean lead time", in_unit(results.estimate("lead_time_mean_s"), length), FIGURE, unit))
    shown.append(_tile("WIP", results.estimate("wip_parts"), FIGURE, "parts"))
    return shown


def _tile(what: str, found: Estimate, form: str, unit: str = "", note: str = "") -> Tile:
    number, _, percent_sign = value(found, form).partition(" ")
    between = interval(found, form) or "one replication, no interval"
    return Tile(what, number, percent_sign or unit, [line for line in (between, note) if line])


def sentences(results: Results, line: Line | None) -> list[str]:
    """The answer in words."""
    told = [*_demand(results), *_outlook(results), *_lost(results), *_holding(results), *_open_points(line), SCOPE]
    return list(told)


def _demand(results: Results) -> Iterator[str]:
    about, demand = results.about, results.about["demand_per_h"]
    made = results.estimate("throughput_per_h")
    count = made.replications
    if demand is None:
        yield "The file names no demand, so nothing is said of whether the output is enough."
        return
    reached = int((results.replications["throughput_per_h"] >= demand).sum())
    lead = VERDICTS.get(results.demand_verdict() or "", "Whether demand is met is not shown either way.")
    apart = made.mean - demand
    amount = f"{figure(abs(apart))} good parts/h {'above' if apart >= 0 else 'below'} the demand"
    yield f"{lead} The mean output is {amount}; {reached} of {count} replication{'s' * (count != 1)} reached it."
    below = results.estimate("windows_below_demand_share")
    if below.replications:
        yield (
            f"{percent(below.mean)} of the windows of {about['window_h']:g} h fell below the demand: even a line that "
            "meets it has such times, and stock must cover them."
        )


def _outlook(results: Results) -> Iterator[str]:
    """How many days, weeks and years stay below the demand; a mean hides them."""
    for each in results.outlook().to_dict("records"):
        share, count = each["below_share"], each["count"]
        if not math.isnan(share):
            between = f" ({percent(each['below_low'])} to {percent(each['below_high'])})"
            yield f"Of {count} {each['period']}{'s' * (count != 1)} {percent(share)}{between} stay below the demand."


def _lost(results: Results) -> Iterator[str]:
    table = results.averages("losses", "step", "parts_per_h").set_index("step")["mean"]
    lost = table.drop(["gross", "good"]).sort_values(ascending=False, kind="stable")
    largest = [f"{label(str(step))} {figure(per_h)}" for step, per_h in lost.items() if per_h >= LEAST_LOSS_PER_H]
    if largest:
        stage = results.about["pace_stage"]
        yield (
            f"Of {figure(float(table['gross']))} parts/h that {stage}, the pace stage, could make, the most is lost "
            f"to: {', '.join(largest[:LOSSES_TOLD])} parts/h."
        )


def _holding(results: Results) -> Iterator[str]:
    both = results.bottleneck.assign(share=results.bottleneck["sole_share"] + results.bottleneck["shifting_share"])
    means = averaged(both, ["owner"], "share").set_index("owner")["mean"].sort_values(ascending=False, kind="stable")
    if len(means) and means.iloc[0] > 0:
        yield (
            f"{means.index[0]} holds the line up most: it is the longest active for {percent(float(means.iloc[0]))} of "
            "the time. What an improvement there would bring is told only by running the change."
        )


def _open_points(line: Line | None) -> Iterator[str]:
    if line is None:
        return
    if not line.assumptions:
        yield "The file of the line says of none of its values how sure it is."
        return
    kinds: dict[str, int] = {}
    for each in line.assumptions.values():
        kinds[each.kind] = kinds.get(each.kind, 0) + 1
    noted = ", ".join(f"{value(count, COUNT)} {kind}" for kind, count in kinds.items())
    told = f"The file of the line says how sure {len(line.assumptions)} of its values are ({noted})"
    yield f"{told}; all others are taken as given."
