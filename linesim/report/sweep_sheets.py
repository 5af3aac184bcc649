"""The tables of a sweep: its points, what each factor does, and what failed."""

from __future__ import annotations

from typing import Any

import pandas as pd

from linesim.report.sheets import CHANGE, COUNT, TEXT, Cell, Column, Sheet
from linesim.results.intervals import Estimate
from linesim.results.labels import in_unit, thousands, time_unit
from linesim.results.sweep import OUTPUT, Sweep

COST, WIP, LEAD_TIME = "cost_per_good_part", "wip_parts", "lead_time_mean_s"
MOST_ON_PAGE = 300  # points; the workbook has all


def points(sweep: Sweep, most: int | None = MOST_ON_PAGE) -> Sheet:
    """A row a point, the most output first; the reader can filter and sort it."""
    table = sweep.by_point(OUTPUT, WIP, LEAD_TIME, COST).dropna(subset=[OUTPUT])
    table = table.sort_values(OUTPUT, ascending=False, kind="stable")
    front = set(sweep.not_dominated()["point"])
    length, unit = time_unit(table[LEAD_TIME].median())
    columns = [
        Column("point", form=COUNT),
        *(Column(factor, form=TEXT) for factor in sweep.factors),
        Column("replications", form=COUNT),
        Column("output", "good parts/h"),
        Column("WIP", "parts"),
        Column("lead time", unit),
        Column("cost of a good part", sweep.currency),
        Column("investment", thousands(sweep.currency)),
        Column("none makes more for less", form=TEXT),
    ]
    rows: list[list[Cell]] = []
    for row in _records(table.head(most) if most else table):
        price = row["investment"]
        rows.append(
            [
                int(row["point"]),
                *(str(row[factor] or "-") for factor in sweep.factors),
                int(row["replications"]),
                _estimate(row, OUTPUT),
                _estimate(row, WIP),
                in_unit(_estimate(row, LEAD_TIME), length),
                _estimate(row, COST),
                None if pd.isna(price) else price / 1000,
                "yes" if row["point"] in front else "",
            ]
        )
    note = "Intervals hold for each point by itself. Points are judged by their means: more output for less investment."
    if most and len(table) > most:
        note += f" The {most} with most output of {len(table)}; the workbook has all."
    return Sheet("The points", columns, rows, note, filterable=True).without_empty()


def effects(sweep: Sweep) -> Sheet:
    """What each level of a factor does beside its first one, the factor that moves output most first: a tornado."""
    table = sweep.main_effects().dropna(subset=["mean"])
    span = table.groupby("factor")["mean"].transform(lambda mean: mean.max() - mean.min())
    table = table.assign(span=span).sort_values("span", ascending=False, kind="stable")
    rows: list[list[Cell]] = []
    for row in _records(table):
        known = not pd.isna(row["less_first"])
        change = Estimate(row["less_first"], row["low"], row["high"], 0 if not known else 2)
        shown = "" if pd.isna(row["low"]) else "no difference shown" if row["low"] <= 0 <= row["high"] else "yes"
        rows.append([str(row["factor"]), str(row["level"]), int(row["points"]), row["mean"], change, shown])
    columns = [
        Column("factor", form=TEXT),
        Column("level", form=TEXT),
        Column("points", form=COUNT),
        Column("mean output", "good parts/h"),
        Column("less the first level", "good parts/h", CHANGE),
        Column("shown", form=TEXT),
    ]
    note = (
        "Each level with the other factors alike, as if effects added up; a range by its two ends, along a straight "
        "line. The factor with the widest span first. Each interval holds by itself."
    )
    return Sheet("What each factor does", columns, rows, note)


def failed(sweep: Sweep) -> Sheet | None:
    """Runs that failed, with what was said; None if all went well."""
    table = sweep.failed
    if table.empty:
        return None
    rows: list[list[Cell]] = [
        [int(row["point"]), *(str(row[factor]) for factor in sweep.factors), int(row["replication"]), str(row["error"])]
        for row in _records(table)
    ]
    heads = [Column(factor, form=TEXT) for factor in sweep.factors]
    columns = [Column("point", form=COUNT), *heads, Column("replication", form=COUNT), Column("error", form=TEXT)]
    return Sheet("Runs that failed", columns, rows)


def how_it_was_run(sweep: Sweep) -> Sheet:
    about = sweep.about
    rows: list[list[Cell]] = [
        ["points", str(len(sweep.points))],
        ["runs", f"{len(sweep.rows)} of {about['planned']} planned"],
        ["replications of a point", sweep.replications_told()],
        ["measured time of each", f"{about['hours']:g} h"],
        ["warm-up before it, not measured", f"{about['warmup_hours']:g} h, from an empty line"],
        ["seed", str(about["seed"])],
        ["random numbers", "the same for all points, replication by replication"],
    ]
    return Sheet("How it was run", [Column("what", form=TEXT), Column("value", form=TEXT)], rows)


def _estimate(row: Any, measure: str) -> Estimate:
    known = not pd.isna(row[measure])
    return Estimate(
        row[measure], row[f"{measure}_low"], row[f"{measure}_high"], int(row["replications"]) if known else 0
    )


def _records(table: pd.DataFrame) -> list[dict[str, Any]]:
    return table.to_dict("records")  # type: ignore[return-value]
