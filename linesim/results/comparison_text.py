"""What `compare` prints: each line by itself, then how it differs from the base, then which may be the best."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import TYPE_CHECKING

from linesim.results.definitions import MEASURES
from linesim.results.intervals import estimates
from linesim.results.labels import (
    aligned,
    figure,
    figures,
    in_unit,
    mean_and_interval,
    shortened,
    signed,
    thousands,
    time_unit,
    with_intervals,
)
from linesim.results.text import CAUTION, WIDTH

if TYPE_CHECKING:
    from linesim.results.comparison import Comparison

OUTPUT, COST = "throughput_per_h", "cost_per_good_part"
MUCH = 1.05  # shared random numbers that save less than a twentieth of the replications are not worth a word


def comparison_text(comparison: Comparison) -> str:
    """The lines in a table, differences from the base, and the lines that may be the best."""
    blocks = [_head, _chosen, _lines, _differences, _best, _caution]
    return "\n\n".join("\n".join(lines) for lines in ([*block(comparison)] for block in blocks) if lines)


def _head(comparison: Comparison) -> Iterator[str]:
    about = comparison.about
    counts = sorted({len(each.about["replications"]) for each in comparison.results.values()})
    count = f"{counts[0]} to {counts[-1]}" if len(counts) > 1 else str(counts[0])
    runs = f"{count} replication{'s' * (counts[-1] > 1)} each"
    yield f"{len(comparison.names)} lines, the first is the base"
    yield (
        f"{runs} of {about['hours']:g} h after {about['warmup_hours']:g} h of "
        f"warm-up, seed {about['seed']}, the same random numbers for all"
    )
    found = [each.about["warmup"] for each in comparison.results.values() if each.about["warmup"]]
    if found:
        own = ", ".join(f"{max(each['cuts_h'].values()):g}" for each in found)
        yield f"the longest warm-up of all lines, each found by {found[0]['rule']} from empty: {own} h"


def _lines(comparison: Comparison) -> Iterator[str]:
    """A row a line; columns that no line has are left out."""
    times = [each.estimate("lead_time_mean_s") for each in comparison.results.values()]
    length, unit = time_unit(times[0].mean)
    invested = comparison.investments()
    currency = comparison.about["currency"]
    lines = [*comparison.results.values()]
    prices = [invested[name] for name in comparison.names]
    columns = {
        "line": map(shortened, comparison.names),
        "good parts/h": with_intervals([each.estimate(OUTPUT) for each in lines]),
        "demand": [each.demand_verdict() or "" for each in lines],
        "WIP": figures([each.estimate("wip_parts").mean for each in lines]),
        f"lead time {unit}": figures([in_unit(time, length).mean for time in times]),
        f"{currency or 'cost'} a part": figures([each.estimate(COST).mean for each in lines]),
        thousands(currency, "invested"): ["" if price is None else f"{price / 1000:,.0f}" for price in prices],
    }
    yield from aligned([[*columns], *zip(*columns.values(), strict=True)], heads=1)


def _differences(comparison: Comparison) -> Iterator[str]:
    base = comparison.names[0]
    for measure, words in ((OUTPUT, "good parts/h"), (COST, "cost of a good part")):
        table = comparison.differences(measure)
        if not table["replications"].any():
            continue
        together = ", which hold together" if len(table) > 1 else ""
        yield f"{words}, less {shortened(base)}; paired 95 % intervals{together}"
        cells = mean_and_interval(estimates(table), signed)
        shown = zip(table["line"], cells, table["shown"], strict=True)
        yield from aligned([[f"  {shortened(line)}", *both, told] for line, both, told in shown])
    helped = comparison.differences(OUTPUT)["helped"].dropna()
    if len(helped) and not 1 / MUCH < helped.min() < MUCH:
        least = figure(helped.min())
        if helped.min() > 1:
            words = f"independent random numbers would have needed at least {least} times the replications"
        else:
            words = f"sharing the random numbers did harm: independent ones would need {least} of the replications"
        yield from textwrap.wrap(words, WIDTH, subsequent_indent="  ")


def _chosen(comparison: Comparison) -> Iterator[str]:
    """Which line was chosen, and with how many replications of each; plainly where it was not decided."""
    found = comparison.selection
    if found is None:
        return
    unit = MEASURES[found["measure"]].unit
    left = ", ".join(shortened(name) for name in found["left"])
    if found["decided"]:
        words = f"best by {found['measure']}: {left}. It is so with 95 % confidence if"
    else:
        words = f"NOT DECIDED with {found['most_replications']} replications: the best by {found['measure']} is one of "
        words += f"{left}, with 95 % confidence if"
    words += f" the best leads by {found['indifference']:g} {unit} or more"
    yield from textwrap.wrap(words, WIDTH, subsequent_indent="  ")
    counts = [f"{shortened(n)} {len(each.about['replications'])}" for n, each in comparison.results.items()]
    yield from textwrap.wrap(f"replications it took: {', '.join(counts)}", WIDTH, subsequent_indent="  ")


def _best(comparison: Comparison) -> Iterator[str]:
    for measure, words in ((OUTPUT, "most good parts/h"), (COST, "least cost of a good part")):
        if comparison.selection and comparison.selection["measure"] == measure:
            continue  # told above, by a procedure that may look again and again
        standing = comparison.standing(measure)
        if standing["high"].isna().all():
            continue
        may_be = [shortened(name) for name in standing.loc[standing["may_be_best"], "line"]]
        if len(may_be) == 1:
            yield f"{words}: {may_be[0]}, with 95 % confidence"
        else:
            ties = f"{words}: not shown; it is one of {', '.join(may_be)}, with 95 % confidence"
            yield from textwrap.wrap(ties, WIDTH, subsequent_indent="  ")


def _caution(_: Comparison) -> Iterator[str]:
    yield from textwrap.wrap(CAUTION, WIDTH)
