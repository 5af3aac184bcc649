"""Whether the stored figures agree with each other, and how far they can be trusted: checks that can fail."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from linesim.report.sheets import TEXT, Cell, Column, Sheet
from linesim.results import Results
from linesim.results.intervals import estimate
from linesim.results.labels import figure, percent

CLOSE = 1e-6  # the tables hold the books as decimal numbers
FEW_STOPS = 5  # of a cause in all replications: its share of the losses is little more than luck then
NEAR_LITTLE = 0.05


class Check(NamedTuple):
    """what: the rule; found: what the tables say; holds: True, False, or None where it is for information."""

    what: str
    found: str
    holds: bool | None


def checks(results: Results) -> list[Check]:
    """Books that must balance, then Little's law, warm-up, and causes that struck too seldom."""
    return [*_books(results), _little(results), *_warmup(results), *_precision(results), *_rare(results)]


def sheet(found: list[Check]) -> Sheet:
    words = {True: "holds", False: "DOES NOT HOLD", None: "for information"}
    rows: list[list[Cell]] = [[check.what, check.found, words[check.holds]] for check in found]
    return Sheet("Validity checks", [Column(head, form=TEXT) for head in ("check", "found", "verdict")], rows)


def _books(results: Results) -> Iterator[Check]:
    states = results.states.drop(columns=["replication", "owner", "kind", "group"])
    planned = states.drop(columns=["off_shift", "planned_stop"]).fillna(0.0).sum(axis=1)
    planned += states["planned_stop"].where(results.states["kind"] == "carriage", 0.0).fillna(0.0)
    off = float((planned[planned > 0] - 1).abs().max())
    yield _balance("the times in all states add up to the planned time, for each machine and carriage", off, 1.0)

    bridge = results.losses.pivot(index="replication", columns="step", values="parts")
    rest = bridge["gross"] - bridge.drop(columns=["gross", "good"]).sum(axis=1) - bridge["good"]
    largest = float(bridge["gross"].max())
    yield _balance("gross less all losses gives the good parts, in each replication", float(rest.abs().max()), largest)

    told = results.replications.set_index("replication")
    counted = results.windows[results.windows["measured"]].groupby("replication")["good_parts"].sum()
    off = float((counted - told["good_parts"]).abs().max())
    yield _balance("good parts of the output windows add up to the good parts of the run", off, 1.0)

    if not results.lead_times.empty:
        timed = results.lead_times.groupby("replication")["good_parts"].sum()
        off = float((timed.reindex(told.index, fill_value=0) - told["good_parts"]).abs().max())
        yield _balance("every good part has a lead time", off, 1.0)

    mean = (results.wip["parts"] * results.wip["share"]).groupby(results.wip["replication"]).sum()
    off = float((mean - told["wip_parts"]).abs().max())
    yield _balance("the distribution of WIP has the mean that is told", off, float(told["wip_parts"].max()))


def _balance(what: str, off: float, size: float) -> Check:
    holds = bool(off <= CLOSE * max(1.0, size))
    return Check(what, "no difference" if holds else f"off by {figure(off)}", holds)


def _little(results: Results) -> Check:
    wip, by_little = (results.estimate(name).mean for name in ("wip_parts", "wip_by_little_parts"))
    apart = abs(by_little - wip) / wip if wip else 0.0
    found = f"{figure(wip)} and {figure(by_little)} parts, {percent(apart)} apart"
    if apart > NEAR_LITTLE:
        found += "; the run is short beside the lead time, or stock grew in it"
    return Check("WIP beside rate of leaving x mean time inside (Little 1961)", found, None)


def _warmup(results: Results) -> Iterator[Check]:
    """Whether output still grows or falls: second half of the measured time less the first."""
    windows = results.windows[results.windows["measured"] & (results.windows["planned_h"] > 0)]
    if results.about["warmup_hours"] == 0:
        yield Check("a warm-up is cut off", "none: the filling of the empty line counts as measured time", None)
    middle = (windows["from_h"].min() + windows["to_h"].max()) / 2
    halves = []
    for half in (windows[windows["from_h"] < middle], windows[windows["from_h"] >= middle]):
        sums = half.groupby("replication")[["good_parts", "planned_h"]].sum()
        halves.append(sums["good_parts"] / sums["planned_h"])
    grown = estimate((halves[1] - halves[0]).dropna())
    if grown.replications > 1:
        interval = f"{figure(grown.mean)} ({figure(grown.low)} to {figure(grown.high)}) parts/h"
        shown = grown.low > 0 or grown.high < 0
        words = "differ: a longer warm-up may be needed" if shown else "no difference shown"
        yield Check(
            "output of the second half of the measured time less that of the first", f"{interval}: {words}", None
        )


def _precision(results: Results) -> Iterator[Check]:
    made = results.estimate("throughput_per_h")
    if made.replications > 1 and made.mean:
        found = f"± {percent(made.half_width / made.mean)} of the mean, from {made.replications} replications"
        yield Check("half width of the interval of the output", found, None)
    else:
        yield Check("half width of the interval of the output", "one replication has none: run more", None)


def _rare(results: Results) -> Iterator[Check]:
    counts = results.stoppages.groupby(["owner", "kind", "name"], sort=False)["count"].sum()
    few = counts[counts < FEW_STOPS]
    names = [
        f"{name} of {owner}"
        for owner, name in zip(few.index.get_level_values(0), few.index.get_level_values(2), strict=True)
    ]
    rare = [f"{name} ({count} times)" for name, count in zip(names, few, strict=True)]
    if len(counts):
        found = "; ".join(rare) if rare else "none"
        yield Check(f"causes that struck fewer than {FEW_STOPS} times in all replications together", found, None)
