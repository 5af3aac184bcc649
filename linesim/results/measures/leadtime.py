"""Lead time: from leaving the infeed to reaching the outfeed, of the good parts that leave in the measured time."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd

from linesim.engine.contract.ledger import US, Fate, Ledger
from linesim.results.measures.output import ENTERED, TIME, left
from linesim.results.measures.planned import ratio

QUANTILES = {"p05": 0.05, "p50": 0.5, "p95": 0.95}
CLASSES = 40  # of the histogram, about, up to the 95 % quantile; a few late parts go on beyond
MOST_CLASSES = 400
SECONDS = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30)  # and minutes: the round widths of a class
MINUTES = (1, 2, 5, 10, 20, 30)


def lead_times_s(ledger: Ledger) -> np.ndarray:
    """Lead time of each good part [s], in the order of leaving."""
    rows = left(ledger, Fate.GOOD)
    return (rows[:, TIME] - rows[:, ENTERED]) / US


def lead_time_measures(ledger: Ledger, least_s: float) -> dict[str, float]:
    """Mean, quantiles and flow factor (mean / least possible); NaN if no good part left."""
    times_s = lead_times_s(ledger)
    if len(times_s) == 0:
        names = ["lead_time_mean_s", *(f"lead_time_{name}_s" for name in QUANTILES), "flow_factor"]
        return dict.fromkeys(names, float("nan"))
    mean_s = float(times_s.mean())
    quantiles_s = np.quantile(times_s, list(QUANTILES.values())).tolist()
    quantiles = {f"lead_time_{name}_s": time_s for name, time_s in zip(QUANTILES, quantiles_s, strict=True)}
    return {"lead_time_mean_s": mean_s, **quantiles, "flow_factor": ratio(mean_s, least_s)}


def histograms(samples_s: Sequence[np.ndarray]) -> list[pd.DataFrame]:
    """A table for each sample, from_s, to_s, good_parts, with the same classes of a round width for all."""
    together = np.concatenate([*samples_s, np.empty(0)])
    if len(together) == 0:
        return [pd.DataFrame(columns=["from_s", "to_s", "good_parts"], dtype=float) for _ in samples_s]
    low, high, highest = together.min(), np.quantile(together, 0.95), together.max()
    width = max(round_width((high - low) / CLASSES), round_width((highest - low) / MOST_CLASSES))
    first, last = np.floor(low / width), np.floor(highest / width)
    edges = width * np.arange(first, last + 2)
    tables = []
    for times_s in samples_s:
        classes = np.clip(np.searchsorted(edges, times_s, side="right") - 1, 0, len(edges) - 2)
        parts = np.bincount(classes, minlength=len(edges) - 1)
        tables.append(pd.DataFrame({"from_s": edges[:-1], "to_s": edges[1:], "good_parts": parts}))
    return tables


def round_width(least_s: float) -> float:
    """The smallest width of at least so many seconds that is a round number of seconds, minutes or hours."""
    for width_s in (*SECONDS, *(60 * minutes for minutes in MINUTES)):
        if width_s >= least_s:
            return float(width_s)
    width_s = 3600.0
    while width_s < least_s:
        width_s *= 2
    return width_s
