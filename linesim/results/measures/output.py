"""What leaves the line: counts in the measured time, and output by window."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import pandas as pd

from linesim.engine.contract.ledger import HOUR_US, US, Fate, Ledger
from linesim.results.measures.planned import planned_before_us, planned_us, ratio

TIME, ENTERED, FATE, DEFECT = 0, 2, 3, 4  # columns of departures


def left(ledger: Ledger, fate: Fate | None = None) -> np.ndarray:
    """Rows of the parts that left in the measured time; of one fate, or of all."""
    rows = ledger.departures[np.searchsorted(ledger.departures[:, TIME], ledger.warmup_us) :]
    return rows if fate is None else rows[rows[:, FATE] == fate]


def count_left(ledger: Ledger, fate: Fate) -> int:
    """Parts of one fate that left in the measured time."""
    return int(np.count_nonzero(left(ledger)[:, FATE] == fate))


def counts(ledger: Ledger) -> dict[str, float]:
    """Throughput and counts of good, scrapped, sampled, reworked and escaped parts."""
    gone, good = left(ledger), count_left(ledger, Fate.GOOD)
    return {
        "throughput_per_h": ratio(good, planned_us(ledger) / HOUR_US),
        "good_parts": good,
        "scrapped_parts": count_left(ledger, Fate.SCRAPPED),
        "sampled_parts": count_left(ledger, Fate.SAMPLED),
        "reworked_parts": sum(station.reworked for station in ledger.of_stations),
        "false_alarm_parts": sum(station.false_alarms for station in ledger.of_stations),
        "escaped_parts": int(np.count_nonzero((gone[:, FATE] == Fate.GOOD) & (gone[:, DEFECT] >= 0))),
    }


def windows(ledger: Ledger) -> pd.DataFrame:
    """A row an output window, warm-up included: from_h, to_h, measured, whole, planned_h, good_parts, throughput_per_h,
    wip_parts.

    whole: as long as asked for; a window may be cut by the end of the warm-up or of the run. planned_h: planned time of
    the line in it [h]. throughput_per_h: per hour of the clock.
    """
    return pd.DataFrame(columns_of_windows(ledger))


def columns_of_windows(ledger: Ledger) -> dict[str, np.ndarray]:
    """The columns of `windows`, each an array."""
    ends = ledger.windows[:, 0]
    starts = np.concatenate([[0], ends[:-1]])
    length = ends - starts
    times = ledger.departures[ledger.departures[:, FATE] == Fate.GOOD, TIME]
    good = np.searchsorted(times, ends) - np.searchsorted(
        times, starts
    )  # what leaves at the very end is the next one's
    return {
        "from_h": starts / US / 3600,
        "to_h": ends / US / 3600,
        "measured": starts >= ledger.warmup_us,
        "whole": length == ledger.window_us,
        "planned_h": np.diff(planned_before_us(ledger, np.concatenate([[0], ends]))) / HOUR_US,
        "good_parts": good,
        "throughput_per_h": good * HOUR_US / length,
        "wip_parts": ledger.windows[:, 1] / length,
    }


def share_below(windows: Mapping[str, np.ndarray] | pd.DataFrame, demand_per_h: float | None) -> float:
    """Share of the whole measured windows with fewer good parts than demand asks for in their planned time.

    Windows without planned time do not count. NaN without any or a demand.
    """
    counted = windows["measured"] & windows["whole"] & (windows["planned_h"] > 0)
    if demand_per_h is None or not counted.any():
        return float("nan")
    too_few = windows["good_parts"] < demand_per_h * windows["planned_h"]
    return float(too_few[counted].mean())
