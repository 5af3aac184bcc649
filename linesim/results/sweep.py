"""What came out of a sweep: a tidy table of all points, and the questions people ask of it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd

from linesim.results import sweep_store
from linesim.results.conditions import DEMAND, OF_LINE, best, meeting
from linesim.results.conditions import measure as measure_of
from linesim.results.definitions import LESS_IS_BETTER, MEASURES
from linesim.results.differences import from_best
from linesim.results.effects import along_ranges, is_range, main_effects
from linesim.results.intervals import t_quantile

OUTPUT = "throughput_per_h"
MOST_COMPARED = 60  # points, each with each of the others


class Sweep:
    """Points of a sweep and what their replications gave, finished or still growing.

    points: a row a point: point, a column a factor (text as it was asked for, files by short names), investment,
    demand_per_h. rows: a row a finished run: point, replication, error (text of a run that failed), then the measures.
    about: what was asked for, and currency.
    """

    def __init__(self, about: dict[str, Any], points: pd.DataFrame, rows: pd.DataFrame) -> None:
        self.about, self.points, self.rows = about, points, rows

    @property
    def currency(self) -> str:
        """Of all its lines; "" where it is not known."""
        return str(self.about.get("currency", ""))

    @property
    def factors(self) -> list[str]:
        """Columns of `points` that hold factors."""
        return [name for name in self.points.columns if name not in ("point", *OF_LINE)]

    def replications_told(self) -> str:
        """How many replications the points have, in words."""
        counts = self.rows.groupby("point").size().reindex(self.points["point"], fill_value=0)
        least, most = int(counts.min()), int(counts.max())
        return f"{least if least == most else f'{least} to {most}'} replication{'s' * (most != 1)}"

    @property
    def failed(self) -> pd.DataFrame:
        """Runs that failed: the point's columns, replication, error."""
        broken = self.rows.loc[self.rows["error"].notna(), ["point", "replication", "error"]]
        return self.points.merge(broken, on="point")

    def table(self) -> pd.DataFrame:
        """A row a finished run: the point's columns, replication, then the measures."""
        sound = self.rows.loc[self.rows["error"].isna()].drop(columns="error")
        return self.points.merge(sound, on="point").sort_values(["point", "replication"], ignore_index=True)

    def summary(self, measures: Sequence[str] = tuple(MEASURES)) -> pd.DataFrame:
        """A row a point and measure: the point's columns, measure, unit, mean, low, high (95 %), replications."""
        table = self.table()
        found = [self._estimates(table, measure) for measure in measures]
        for measure, each in zip(measures, found, strict=True):
            each.insert(1, "measure", measure)
            each.insert(2, "unit", MEASURES[measure].unit)
        return self.points.merge(pd.concat(found, ignore_index=True), on="point")

    def by_point(self, *measures: str) -> pd.DataFrame:
        """A row a point: its columns, then for each measure its mean, and low and high of its 95 % interval.

        Without measures: all of them. The columns of a measure m are m, m_low and m_high; `replications` counts runs.
        """
        table = self.table()
        wide = self.points.merge(table.groupby("point").size().rename("replications").reset_index(), on="point")
        columns: dict[str, pd.Series[Any]] = {}
        for measure in measures or MEASURES:
            known = measure_of(measure)
            found = self._estimates(table, known).set_index("point").reindex(wide["point"])
            for name, column in ((known, "mean"), (f"{known}_low", "low"), (f"{known}_high", "high")):
                columns[name] = found[column].reset_index(drop=True)
        return pd.concat([wide, pd.DataFrame(columns)], axis=1)

    def best(self, by: str = OUTPUT, count: int | None = 10, where: str | None = None) -> pd.DataFrame:
        """The best points by one measure, or by investment, the best first, as `by_point` gives them.

        where: a condition on the columns of `by_point`, as pandas reads it, such as
        "investment < 3e6 and throughput_per_h_low > 24". Raises ValueError for a condition that can't be read.
        """
        return best(meeting(self.by_point(), where), by, count)

    def meeting_demand(self) -> pd.DataFrame:
        """The points that meet their demand, the whole interval of each by itself; as `by_point` gives them."""
        wide = self.by_point()
        return wide.loc[wide[f"{OUTPUT}_low"] >= pd.to_numeric(wide[DEMAND])] if DEMAND in wide else wide.head(0)

    def may_be_best(self, measure: str = OUTPUT) -> list[int] | None:
        """The points of which one is the best by a measure, with 95 % confidence; see `differences.from_best`.

        None if that can't be told: with fewer than two points, or a single replication, or too many points to compare
        each with each.
        """
        table = self.table()
        values = table.pivot(index="replication", columns="point", values=measure_of(measure))
        if not 2 <= len(values.columns) <= MOST_COMPARED:
            return None
        standing = from_best(values, most_is_best=measure not in LESS_IS_BETTER)
        if standing["high"].isna().all():
            return None
        return sorted(int(point) for point in standing.loc[standing["may_be_best"], "line"])

    def main_effects(self, measure: str = OUTPUT) -> pd.DataFrame:
        """What each level of each factor does, and each range from end to end: see `effects.main_effects`."""
        asked = self.points.set_index("point")[self.factors]
        return main_effects(self.table(), asked, self.ranges, measure_of(measure), self.about["rounds"]["first"])

    def straight_lines(self, measure: str = OUTPUT) -> pd.DataFrame:
        """What each factor with a range does from its lowest to its highest value: see `effects.along_ranges`."""
        return along_ranges(self.main_effects(measure), self.ranges)

    @property
    def ranges(self) -> list[str]:
        """Factors that took so many values, all numbers of one unit, that each hardly occurs twice."""
        return [name for name in self.factors if is_range(self.points[name])]

    def not_dominated(self, measure: str = OUTPUT) -> pd.DataFrame:
        """The points that no other beats in both investment and a measure's mean, cheapest first."""
        less = measure_of(measure) in LESS_IS_BETTER
        wide = self.by_point(measure).dropna(subset=["investment", measure])
        ranked = wide.sort_values(["investment", measure], ascending=[True, less], kind="stable")
        gain = ranked[measure] * (-1 if less else 1)
        before = gain.cummax().shift(fill_value=-np.inf)
        return ranked.loc[gain > before]

    def _repr_html_(self) -> str:
        """What a notebook shows."""
        from linesim.results.notebook import sweep_html

        return sweep_html(self)

    def text_summary(self) -> str:
        """What a person wants to read first, in lines of at most 100 characters."""
        from linesim.results.sweep_text import sweep_text

        return sweep_text(self)

    def save_tables(self, folder: Path, plots: bool = True) -> None:
        """Writes the tables and plots that people look at into the sweep's folder."""
        sweep_store.finish(
            folder,
            {
                "table": self.table(),
                "points": self.by_point(),
                "main_effects": self.main_effects(),
                "failed": self.failed,
            },
        )
        if plots:
            from linesim.results import plots as drawn
            from linesim.results.plots.swept import SWEPT

            drawn.save(SWEPT, self, folder / "plots")

    def _estimates(self, table: pd.DataFrame, measure: str) -> pd.DataFrame:
        """point, mean, low, high, replications: all points at once, the same as `intervals.estimate` one by one."""
        grouped = table.groupby("point")[measure_of(measure)]
        found = pd.DataFrame({"mean": grouped.mean(), "replications": grouped.count()})
        counts = found["replications"].to_numpy()
        quantiles = {count: t_quantile(int(count) - 1) if count > 1 else np.nan for count in set(counts)}
        half = grouped.std(ddof=1) / np.sqrt(counts) * [quantiles[count] for count in counts]
        found["low"], found["high"] = found["mean"] - half, found["mean"] + half
        return found.reset_index()[["point", "mean", "low", "high", "replications"]]


def open_sweep(folder: Path) -> Sweep:
    """A sweep as it stands in its folder, finished or not. Raises ValueError if a later version wrote it."""
    about = {**sweep_store.told(folder), "currency": sweep_store.currency_of(folder)}
    return Sweep(about, sweep_store.shown_points(folder), sweep_store.rows_of(folder))
