"""The tables of a run for people, each from the stored tables of its results and, where it is known, the line."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from linesim.line.capacity import stages
from linesim.line.carriers import carrier_of
from linesim.line.model import Line
from linesim.line.money import prices
from linesim.report.basis_sheets import in_a_run
from linesim.report.sheets import COUNT, PERCENT, TEXT, Cell, Column, Sheet
from linesim.results import Results
from linesim.results.intervals import Estimate, estimate
from linesim.results.labels import in_unit, label, time_unit

STATES_IN_ORDER = [  # work first, then waiting for others, then own stops; without what is no planned time
    *("working", "loading", "moving_loaded", "moving_empty", "handling", "waiting_loader", "waiting_operator"),
    *("blocked", "starved", "waiting_at_machine", "waiting_for_way"),
    *("waiting_setter", "tool_change", "dressing", "changeover", "measuring_stop", "cleaning"),
    *("waiting_repair", "under_repair", "zone_open", "idle"),
]
LEAST_LOSS_PER_H = 0.0005


def stations(results: Results, line: Line | None) -> Sheet:
    """A row a station: what it could make alone, what it made, its OEE."""
    alone = {stage.station: stage for stage in stages(line)} if line else {}
    columns = [
        Column("station", form=TEXT),
        Column("machines", form=COUNT),
        Column("cycle", "s", COUNT),
        Column("alone", "good parts/h"),
        Column("needed", "good parts/h"),
        Column("made", "parts/h"),
        Column("working", form=PERCENT),
        Column("quality", form=PERCENT),
        Column("OEE", form=PERCENT),
        Column("own availability", form=PERCENT),
    ]
    rows: list[list[Cell]] = []
    for station, table in results.stations.groupby("station", sort=False):
        stage = alone.get(str(station))
        rows.append(
            [
                str(station),
                int(table["machines"].iloc[0]),
                stage.cycle_s if stage else None,
                stage.capacity_per_h if stage else None,
                stage.needed_per_h if stage else None,
                estimate(table["processed_parts"] / results.about["planned_hours"]),
                *(estimate(table[name]) for name in ("availability", "quality", "oee", "own_availability")),
            ]
        )
    note = (
        "Alone: rough-cut capacity without any waiting for others. Needed: what it must make good for the demand, with "
        "what is scrapped later. Made: simulated. Working: availability as in ISO 22400-2, so waiting for neighbours "
        "counts against it; own availability leaves out what others impose."
    )
    return Sheet("Stations", columns, rows, note).without_empty()


def parts(results: Results) -> Sheet | None:
    """What leaves by part type; None where all parts are alike."""
    if results.parts.empty:
        return None
    length, unit = time_unit(estimate(results.parts["lead_time_mean_s"]).mean)
    columns = [
        Column("part", form=TEXT),
        Column("output", "good parts/h"),
        Column("share of good parts", form=PERCENT),
        Column("scrapped", in_a_run(results), COUNT),
        Column("mean lead time", unit),
    ]
    rows: list[list[Cell]] = []
    for part, table in results.parts.groupby("part", sort=False):
        shown = [estimate(table[name]) for name in ("throughput_per_h", "share_of_good", "scrapped_parts")]
        rows.append([str(part), *shown, in_unit(estimate(table["lead_time_mean_s"]), length)])
    return Sheet("Part types", columns, rows)


def outlook(results: Results) -> Sheet | None:
    """How many days, weeks and planned years stay below the demand, and what nearly all of them make."""
    rows: list[list[Cell]] = []
    for each in results.outlook().to_dict("records"):
        below = Estimate(each["below_share"], each["below_low"], each["below_high"], each["count"])
        least = Estimate(each["p05_per_h"], each["p05_low"], each["p05_high"], each["count"])
        rows.append([each["period"], each["count"], None if math.isnan(below.mean) else below, least])
    if not rows:
        return None
    columns = [
        Column("period", form=TEXT),
        Column("in all", form=COUNT),
        Column("below demand", form=PERCENT),
        Column("19 of 20 make at least", "good parts/h"),
    ]
    note = "Whole days, weeks and planned years of the measured time, of all replications together."
    return Sheet("Days, weeks and years", columns, rows, note).without_empty()


def losses(results: Results) -> Sheet:
    table = results.averages("losses", "step", "parts_per_h")
    rows: list[list[Cell]] = [[label(step), _of(row)] for step, row in _each(table, "step")]
    columns = [Column("step", form=TEXT), Column("parts", "parts/h")]
    stage = results.about["pace_stage"]
    return Sheet(f"Loss bridge at {stage}, the pace stage", columns, rows, "Gross less all that follows is good parts.")


def bridge(results: Results) -> Sheet:
    """The loss bridge with where each bar begins and how long it is, for a chart."""
    table = losses(results)
    rows: list[list[Cell]] = []
    level = 0.0
    for step, found in table.rows:
        assert isinstance(found, Estimate)
        if abs(found.mean) < LEAST_LOSS_PER_H:
            continue
        ends = step in (label("gross"), label("good"))
        begin, level = (0.0, found.mean) if ends else (level, level - found.mean)
        rows.append([step, found, 0.0 if ends else min(begin, level), abs(level - begin)])
    columns = [*table.columns, Column("bar begins at", "parts/h"), Column("length of the bar", "parts/h")]
    return Sheet(table.title, columns, rows, table.note)


def states(results: Results) -> Sheet:
    """Mean share of planned time in each state that comes up, for each machine and carriage."""
    names = [name for name in STATES_IN_ORDER if name in results.states and results.states[name].max() > 0]
    rows: list[list[Cell]] = [
        [str(owner), *(estimate(table[name]).mean for name in names)]
        for owner, table in results.states.groupby("owner", sort=False)
    ]
    columns = [Column("machine or carriage", form=TEXT), *(Column(label(name), form=PERCENT) for name in names)]
    return Sheet("Shares of planned time by state", columns, rows)


def loaders(results: Results) -> Sheet | None:
    """How each carriage spent its time, and how its loader chooses."""
    if results.loaders.empty:
        return None
    columns = [
        Column("carriage", form=TEXT),
        Column("next call", form=TEXT),
        Column("grippers", form=COUNT),
        Column("in use", form=PERCENT),
        Column("moving loaded", form=PERCENT),
        Column("moving empty", form=PERCENT),
        Column("handling", form=PERCENT),
        Column("waiting at machine", form=PERCENT),
        Column("waiting for way", form=PERCENT),
        Column("down", form=PERCENT),
    ]
    rows: list[list[Cell]] = []
    for owner, table in results.loaders.groupby("owner", sort=False):
        choice = results.about["loaders"][carrier_of(str(owner))]
        places = f": {', '.join(choice['places'])}" if choice["places"] else ""
        down = table["waiting_repair"] + table["under_repair"]
        names = ("in_use", "moving_loaded", "moving_empty", "handling", "waiting_at_machine")
        way = estimate(table["waiting_for_way"]) if table["waiting_for_way"].any() else None
        shares = [*(estimate(table[name]) for name in names), way, estimate(down)]
        if crew := choice.get("crew"):
            rows.append([str(owner), f"by hand by {' or '.join(crew)}", None, *shares])
            continue
        rows.append([str(owner), label(choice["next_call"]) + places, int(choice["grippers"]), *shares])
    note = "Shares of planned time. Call rule and grippers move the output as much as a machine does."
    return Sheet("Loaders", columns, rows, note).without_empty()


def crews(results: Results) -> Sheet | None:
    if results.crews.empty:
        return None
    columns = [
        Column("crew", form=TEXT),
        Column("people", form=COUNT),
        Column("use", form=PERCENT),
        Column("all busy", form=PERCENT),
        Column("calls", in_a_run(results), COUNT),
        Column("calls that waited", form=PERCENT),
        Column("mean wait", "s"),
    ]
    rows: list[list[Cell]] = []
    for crew, table in results.crews.groupby("crew", sort=False):
        names = ("use", "all_busy_share", "calls", "share_waited", "mean_wait_s")
        rows.append([str(crew), int(table["people"].iloc[0]), *(estimate(table[name]) for name in names)])
    return Sheet(
        "Crews", columns, rows, "Use: busy time by time on duty. A wait is up to taking the call, without the way."
    )


def stoppages(results: Results) -> Sheet | None:
    """Breakdowns and stops by machine and cause."""
    if results.stoppages.empty:
        return None
    columns = [
        Column("machine or carriage", form=TEXT),
        Column("kind", form=TEXT),
        Column("cause", form=TEXT),
        Column("began", in_a_run(results), COUNT),
        Column("in all replications", form=COUNT),
        Column("waiting for crew", "min each", COUNT),
        Column("lasting", "min each"),
        Column("share of time", form=PERCENT),
    ]
    rows: list[list[Cell]] = []
    for (owner, kind, name), table in results.stoppages.groupby(["owner", "kind", "name"], sort=False):
        count = float(table["count"].sum())
        waiting, lasting = (float(table[column].sum()) / 60 for column in ("waiting_s", "lasting_s"))
        each = [waiting / count, lasting / count] if count else [None, None]
        row: list[Cell] = [str(owner), label(str(kind)), str(name), estimate(table["count"]), int(count), *each]
        rows.append([*row, estimate(table["share"])])
    return Sheet("Breakdowns and stops", columns, rows)


def buffers(results: Results) -> Sheet | None:
    if results.buffers.empty:
        return None
    columns = [
        Column("buffer", form=TEXT),
        Column("places", form=COUNT),
        Column("mean level", "parts"),
        Column("empty", form=PERCENT),
        Column("full", form=PERCENT),
    ]
    rows: list[list[Cell]] = []
    for buffer, table in results.buffers.groupby("buffer", sort=False):
        names = ("mean_level", "share_empty", "share_full")
        places = int(table["capacity_parts"].iloc[0])
        rows.append([str(buffer), places, *(estimate(table[name]) for name in names)])
    return Sheet("Buffers", columns, rows)


def ends(results: Results) -> Sheet | None:
    if results.ends.empty:
        return None
    columns = [
        Column("infeed, outfeed or drawer", form=TEXT),
        Column("capacity", "parts", COUNT),
        Column("mean stock", "parts"),
        Column("empty", form=PERCENT),
        Column("full", form=PERCENT),
    ]
    rows: list[list[Cell]] = []
    for end, table in results.ends.groupby("end", sort=False):
        names = ("mean_stock", "share_empty", "share_full")
        rows.append([str(end), float(table["capacity_parts"].iloc[0]), *(estimate(table[name]) for name in names)])
    return Sheet("Stock of infeed, outfeed and drawers", columns, rows)


def costs(results: Results) -> Sheet | None:
    """Rows of the conversion cost and their sum; None without money or demand."""
    if results.costs.empty:
        return None
    currency = results.about["currency"]
    table = results.averages("costs", "item", "per_good_part")
    rows: list[list[Cell]] = [[item, _of(row)] for item, row in _each(table, "item")]
    rows.append(["together: cost of a good part", results.estimate("cost_per_good_part")])
    rows.append(["equivalent annual cost of a good part", results.estimate("annual_cost_per_good_part")])
    columns = [Column("item", form=TEXT), Column("cost", f"{currency} a good part")]
    return Sheet("Cost of a good part", columns, rows, "At the simulated output, without the blank of the good part.")


def investment(results: Results, line: Line | None) -> Sheet | None:
    """Prices by kind, installation, and their sum; None without money."""
    if line is None or line.money is None:
        return None
    by_kind = prices(line)
    installation = sum(by_kind.values()) * line.money.installation
    rows: list[list[Cell]] = [[kind, price] for kind, price in by_kind.items()]
    rows += [["installation", installation], ["together: investment", sum(by_kind.values()) + installation]]
    columns = [Column("item", form=TEXT), Column("price", results.about["currency"], COUNT)]
    return Sheet("Investment", columns, [[item, round(float(price or 0))] for item, price in rows])  # type: ignore[arg-type]


def _each(table: Any, key: str) -> Iterator[tuple[str, Any]]:
    for row in table.itertuples(index=False):
        yield str(getattr(row, key)), row


def _of(row: Any) -> Estimate:
    return Estimate(row.mean, row.low, row.high, int(row.replications))
