"""What the command prints: the answer first, then where output is lost, on one screen."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from typing import TYPE_CHECKING, Any

import pandas as pd

from linesim.line.carriers import owner_name
from linesim.results.found_text import precision_words, warm_up_words
from linesim.results.intervals import Estimate, estimate, within
from linesim.results.labels import decimals, figure, in_unit, label, percent, time_unit
from linesim.results.measures.periods import WEEK, YEAR
from linesim.results.outlook import fewest_for_quantile

if TYPE_CHECKING:
    from linesim.results.results import Results

WIDTH = 96
LOSSES_SHOWN, BOTTLENECKS_SHOWN = 6, 3
FEWEST_WEEKS = 20  # of which the worst in twenty is told
LEAST_LOSS_PER_H = 0.005
CAUTION = (
    "Estimates of a model, with random variation, for the inputs given: check assumed data before use. They support a "
    "decision and take the place of no engineering judgement, guarantee or acceptance test."
)


def text_summary(results: Results) -> str:
    """Name, output against demand, OEE, WIP, lead times, loaders, losses and bottleneck; means with 95 % intervals."""
    blocks = [_head, _measures, _parts, _sizes, _loaders, _losses, _bottleneck, _caution]
    return "\n\n".join("\n".join(lines) for lines in ([*block(results)] for block in blocks) if lines)


def _head(results: Results) -> Iterator[str]:
    about = results.about
    count = len(about["replications"])
    yield about["name"]
    yield (
        f"{count} replication{'s' * (count > 1)} of {_hours(about)} after {about['warmup_hours']:g} h of warm-up, "
        f"seed {about['seed']}; " + ("means with 95 % intervals" if count > 1 else "one replication has no interval")
    )
    if about["warmup"]:
        yield warm_up_words(about["warmup"])
    if about["precision"]:
        yield from precision_words(about["precision"])


def _hours(about: dict[str, Any]) -> str:
    planned = "" if about["planned_hours"] == about["hours"] else f" ({about['planned_hours']:g} of them planned)"
    return f"{about['hours']:g} h{planned}"


def _measures(results: Results) -> Iterator[str]:
    about = results.about
    yield _row("output", results.estimate("throughput_per_h"), "good parts/h")
    if about["demand_per_h"] is not None:
        yield f"  demand {figure(about['demand_per_h'])} parts/h: {results.demand_verdict()}"
        below = results.estimate("windows_below_demand_share")
        if below.replications:
            yield _row(f"  below it in windows of {about['window_h']:g} h", below, "of them", percent)
    yield from _outlook(results)
    yield _row("line OEE", results.estimate("line_oee"), "", percent)
    yield f"  pace stage {about['pace_stage']}: a part every {figure(about['ideal_interval_s'])} s at best"
    for words, measure in (
        ("scrapped", "scrapped_parts"),
        ("samples", "sampled_parts"),
        ("reworked", "reworked_parts"),
        ("escaped", "escaped_parts"),
    ):
        counted = results.estimate(measure)
        if counted.mean > 0:
            yield _row(words, in_unit(counted, about["planned_hours"]), "parts/h")
    yield _row("WIP", results.estimate("wip_parts"), "parts")
    length, unit = time_unit(results.estimate("lead_time_mean_s").mean)
    quantiles = {"mean": "mean", "p05": "5 % below", "p50": "50 % below", "p95": "95 % below"}
    times = {name: in_unit(results.estimate(f"lead_time_{name}_s"), length) for name in quantiles}
    alike = _alike(times.values())
    for name, words in quantiles.items():
        yield _row(f"lead time, {words}", times[name], unit, alike)
    least = figure(about["least_lead_time_s"] / length)
    yield _row("flow factor", results.estimate("flow_factor"), f"x least possible ({least} {unit})")
    cost = results.estimate("cost_per_good_part")
    if cost.replications:
        yield _row("cost of a good part", cost, f"{about['currency']}, without its blank")


def _outlook(results: Results) -> Iterator[str]:
    """How many days, weeks and years stay below the demand, and what 19 of 20 weeks make."""
    for each in results.outlook().to_dict("records"):
        count, period = each["count"], each["period"]
        below = Estimate(each["below_share"], each["below_low"], each["below_high"], count)
        if math.isnan(below.mean):
            continue
        if period == YEAR:
            met = Estimate(1 - below.mean, 1 - below.high, 1 - below.low, count)
            yield _row("  met in a planned year", met, f"of {count}", percent, alone=True)
        else:
            yield _row(f"  below it in a {period}", below, f"of {count}", percent, alone=True)
    for each in results.outlook().to_dict("records"):
        if each["period"] == WEEK and each["count"] >= FEWEST_WEEKS:
            low, high = each["p05_low"], each["p05_high"]
            few = math.isnan(low) or math.isnan(high)
            bounds = "" if few else f"({figure(low)} to {figure(high)})"
            more = f", by the runs; an interval takes {fewest_for_quantile()} weeks" if few else ""
            yield f"{'19 of 20 weeks make at least':<34}{figure(each['p05_per_h']):>9}  {bounds:<20} good parts/h{more}"


def _parts(results: Results) -> Iterator[str]:
    for name, rows in results.parts.groupby("part", sort=False):
        yield _row(f"{name}: output", estimate(rows["throughput_per_h"]), "good parts/h")
        length, unit = time_unit(estimate(rows["lead_time_mean_s"]).mean)
        yield _row("  lead time, mean", in_unit(estimate(rows["lead_time_mean_s"]), length), unit)


def _sizes(results: Results) -> Iterator[str]:
    for (station, name), rows in results.characteristics.groupby(["station", "characteristic"], sort=False):
        yield _row(f"{name} of {station} out of tolerance", estimate(rows["out_share"]), "of parts made", percent)
        yield _row("  Cpk over the whole time", estimate(rows["cpk"]), "")
        if rows["measured_parts"].sum():
            for words in ("false rejects", "false accepts"):
                share = rows[words.replace(" ", "_")] / rows["measured_parts"]
                yield _row(f"  {words}", estimate(share), "of parts measured", percent)
        if rows["suspect_most_parts"].max() > 0:
            yield _row("  suspect after a bad sample", estimate(rows["suspect_mean_parts"]), "parts that had gone on")


def _loaders(results: Results) -> Iterator[str]:
    for name, choice in results.about["loaders"].items():
        if choice.get("crew"):
            rows = results.loaders[results.loaders["loader"] == name].groupby("replication")["in_use"].sum()
            yield f"{name}, by hand by {' or '.join(choice['crew'])}"
            yield _row("  tours at a time", estimate(rows), "on the mean, in planned time")
            continue
        rule = label(choice["next_call"]) + (f" ({', '.join(choice['places'])})" if choice["places"] else "")
        grippers = "1 gripper" if choice["grippers"] == 1 else f"{choice['grippers']} grippers"
        most = choice["exchanges_per_tour"]
        exchanges = f", {most} exchange{'s' * (most > 1)} a tour" if choice["grippers"] > 1 else ""
        yield from textwrap.wrap(
            f"loader {name}: next call {rule}, {grippers}{exchanges}", WIDTH, subsequent_indent="  "
        )
        rows = results.loaders[results.loaders["owner"] == owner_name(name)]
        yield _row(f"  {owner_name(name)} in use", estimate(rows["in_use"]), "of planned time", percent)


def _losses(results: Results) -> Iterator[str]:
    wide = _wide(results.losses, "step", "parts_per_h")
    yield f"losses at {results.about['pace_stage']}, the pace stage, in parts/h"
    gross = estimate(wide["gross"])
    alike = _alike([gross])  # of which all others are a part
    yield _row("  " + label("gross"), gross, "", alike)
    lost = wide.drop(columns=["gross", "good"])
    lost = lost.loc[:, lost.mean().abs() >= LEAST_LOSS_PER_H].rename(columns=label)
    yield from _ranking(lost, LOSSES_SHOWN, alike, with_rest=True)
    yield _row("  " + label("good"), estimate(wide["good"]), "", alike)


def _bottleneck(results: Results) -> Iterator[str]:
    total = results.bottleneck.assign(share=results.bottleneck["sole_share"] + results.bottleneck["shifting_share"])
    wide = _wide(total, "owner", "share")
    wide = wide.loc[:, wide.mean() > 0]
    if not wide.empty:
        yield "bottleneck: share of time as the longest active, times of shifting included"
        yield from _ranking(wide, BOTTLENECKS_SHOWN, percent, with_rest=False)


def _caution(results: Results) -> Iterator[str]:
    yield from textwrap.wrap(CAUTION, WIDTH)


def _ranking(wide: pd.DataFrame, shown: int, words: Callable[[float], str], with_rest: bool) -> Iterator[str]:
    """The largest columns; says so where the replications can't tell a row from the one below it."""
    order = list(wide.mean().sort_values(ascending=False, kind="stable").index)
    shown += with_rest and len(order) == shown + 1  # a rest of one is named
    for place, name in enumerate(order[:shown]):
        note = ""
        if place + 1 < len(order[:shown]) and not _may_differ(wide[name], wide[order[place + 1]]):
            note = "not shown to differ from row below"
        yield _row(f"  {name}", estimate(wide[name]), note, words)
    if len(order) > shown and with_rest:
        rest = estimate(wide[order[shown:]].sum(axis=1))
        yield _row(f"  the other {len(order) - shown} together", rest, "", words)


def _may_differ(one: pd.Series[Any], other: pd.Series[Any]) -> bool:
    """Whether the 95 % interval of the paired difference leaves out zero; one replication can't tell."""
    difference = estimate(one - other)
    return difference.replications < 2 or difference.low > 0 or difference.high < 0


def _wide(table: pd.DataFrame, column: str, value: str) -> pd.DataFrame:
    """A row a replication, a column a thing, in the order of the table."""
    wide = table.pivot(index="replication", columns=column, values=value)
    return wide[list(dict.fromkeys(table[column]))]


def _alike(found: Iterable[Estimate]) -> Callable[[float], str]:
    """How numbers of one quantity are written, all with the decimals that fit the largest of these."""
    return partial(figure, places=decimals(number for each in found for number in each[:3]))


def _row(
    name: str, found: Estimate, unit: str, words: Callable[[float], str] | None = None, alone: bool = False
) -> str:
    """One line; an interval ends where the quantity does, at nothing and at 100 %. alone: it needs no second value."""
    shown = within(found, 1.0) if words is percent else within(found)
    words = words or _alike([shown])
    interval = "" if found.replications < 2 and not alone else f"({words(shown.low)} to {words(shown.high)})"
    return f"{name:<34}{words(found.mean):>9}  {interval:<20} {unit}".rstrip()
