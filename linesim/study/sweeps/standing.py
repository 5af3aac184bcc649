"""How a sweep stands while it runs: done, failed, and the best point so far, in a line of words."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import Any

import pandas as pd

from linesim.results.conditions import OF_LINE
from linesim.results.labels import figure, shortened

OUTPUT = "throughput_per_h"


class Standing:
    """rows: of runs that were finished before; points: a row a point, for its name."""

    def __init__(self, rows: pd.DataFrame, points: pd.DataFrame) -> None:
        self.done = self.planned = self._failed = 0
        factors = points.drop(columns=[*OF_LINE], errors="ignore").set_index("point")
        self._names = {number: ", ".join(map(str, levels)) for number, *levels in factors.itertuples()}
        self._sums: dict[int, float] = defaultdict(float)
        self._counts: dict[int, int] = defaultdict(int)
        for point, error, made in rows[["point", "error", OUTPUT]].itertuples(index=False):
            self.note([{"point": point, "error": None if pd.isna(error) else error, OUTPUT: made}])

    def note(self, rows: Sequence[dict[str, Any]]) -> None:
        """Some runs have finished."""
        self.done += len(rows)
        for row in rows:
            if row["error"] is None:
                self._sums[row["point"]] += row[OUTPUT]
                self._counts[row["point"]] += 1
            else:
                self._failed += 1

    def words(self) -> str:
        """Such as "40 of 200 runs done, best so far 25.4/h (fast_gantry, 4)"."""
        failed = f", {self._failed} failed" if self._failed else ""
        text = f"{self.done} of {self.planned} runs done{failed}"
        if not self._sums:
            return text
        best = max(self._sums, key=lambda point: self._sums[point] / self._counts[point])
        made = figure(self._sums[best] / self._counts[best])
        return f"{text}, best so far {made}/h ({shortened(self._names[best])})"
