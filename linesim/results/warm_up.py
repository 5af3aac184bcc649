"""How long a line that starts empty takes to settle: where a pilot run is cut, and by which of its series."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd

SERIES = {"throughput_per_h": "output", "wip_parts": "WIP"}  # column of `windows` -> its name for people
PILOT_COLUMNS = ["replication", "from_h", "to_h", *SERIES]
BATCH = 5  # values that are put together, as the rule's name says
LEAST_LEFT = 5  # batches that are never cut off: fewer may agree by chance, and would seem to have no error at all
SAME = 1e-9  # errors that differ by less than this share of the first one are equal but for rounding


@dataclass(frozen=True)
class Pilot:
    """A run from empty, made to find its warm-up.

    windows: table of PILOT_COLUMNS, as in `Results.windows`. whole_weeks: the cut comes after whole weeks.
    """

    windows: pd.DataFrame
    whole_weeks: bool

    @property
    def hours(self) -> float:
        """How long each replication was [h]."""
        return float(self.windows["to_h"].max())

    @property
    def has_settled(self) -> bool:
        """Whether all cuts lie in the first half; else what comes after them is too short to judge by."""
        return max(self.cuts_h().values()) < self.hours / 2

    def about(self) -> dict[str, Any]:
        """What to remember of it, as JSON can hold it."""
        return {
            "rule": "weekly means, MSER" if self.whole_weeks else "MSER-5",
            "pilot_hours": self.hours,
            "pilot_replications": int(self.windows["replication"].nunique()),
            "cuts_h": self.cuts_h(),
        }

    def cuts_h(self) -> dict[str, float]:
        """Column -> time from which on its mean over the replications has settled [h]."""
        found = {}
        for column in SERIES:
            mean = self.windows.groupby("to_h")[column].mean()
            cut = settled(mean.to_numpy(), 1 if self.whole_weeks else BATCH)
            found[column] = 0.0 if cut == 0 else float(mean.index[cut - 1])
        return found


def settled(values: Sequence[float] | np.ndarray, batch: int = BATCH) -> int:
    """How many values to cut off the start of a series, whole batches of them: the rule MSER-5 (batch 5).

    Of the batch means that are left, it makes the sum of squared deviations from their own mean, divided by the square
    of their number, least; of equal ones the shortest cut. The last 5 batches are never cut off, at most half of them.
    Source: White 1997 and White, Cobb & Spratt 2000 (from memory); the last ones left out as by Hoad, Robinson & Davies
    2010 (from memory).
    """
    series = np.asarray(values, dtype=float)
    many = len(series) // batch
    if many < 2:
        return 0
    means = series[: many * batch].reshape(many, batch).mean(axis=1)
    last = many - min(LEAST_LEFT, (many + 1) // 2)
    errors = np.array([((rest := means[cut:]) - rest.mean()) @ (rest - rest.mean()) / len(rest) ** 2
                       for cut in range(last + 1)])  # fmt: skip
    scale = float(np.abs(means).max()) ** 2  # what is left of rounding is far below this
    return batch * int(np.flatnonzero(errors <= errors.min() * (1 + SAME) + SAME**2 * scale)[0])
