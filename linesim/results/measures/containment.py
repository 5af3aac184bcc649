"""Containment: which parts are suspect when a gauge reads one as bad, and how late it reads them."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import pandas as pd

from linesim.engine.contract.ledger import READING_COLUMNS, SIZE_COLUMNS, Ledger


class Containment(NamedTuple):
    """Of one characteristic in the measured time; NaN where there was nothing.

    alarms: readings out of tolerance that follow one within, of the same machine (or nothing). suspect_mean_parts and
    suspect_most_parts: parts of that machine in between, which had gone on unmeasured. late_parts: how many parts a
    machine has ended between a part and its reading, on the mean: the delay of a feedback is this or one more.
    """

    alarms: int
    suspect_mean_parts: float
    suspect_most_parts: float
    late_parts: float


def containment(ledger: Ledger, number: int, low_nm: float, high_nm: float) -> Containment:
    """For the characteristic of this number, with these limits."""
    made = _of(ledger.sizes, SIZE_COLUMNS, number)
    made["number"] = made.groupby("machine").cumcount()
    read = _of(ledger.readings, READING_COLUMNS, number).astype({"gauge": "int64"})
    read["gauge"] = read["gauge"].map(lambda gauge: ledger.owners[gauge].group)
    whose = made[["time_us", "part", "machine", "number"]]
    read = pd.merge_asof(read, whose, on="time_us", by=["part", "machine"])  # the last size that the part got there
    read["out"] = (read["reading_nm"] < low_nm) | (read["reading_nm"] > high_nm)
    read["ended"] = 0
    for machine, rows in made.groupby("machine"):
        here = read["machine"] == machine
        read.loc[here, "ended"] = np.searchsorted(rows["time_us"], read.loc[here, "time_us"], side="right")
    suspects: list[int] = []
    for _, rows in read.groupby(["gauge", "machine"]):
        alarm = rows["out"] & ~rows["out"].shift(1, fill_value=False) & (rows["time_us"] >= ledger.warmup_us)
        gone_on = rows["number"] - rows["number"].shift(1, fill_value=-1) - 1
        suspects += gone_on[alarm].clip(lower=0).astype(int).tolist()
    late = (read["ended"] - read["number"] - 1)[read["time_us"] >= ledger.warmup_us]
    mean, most = (float(np.mean(suspects)), float(max(suspects))) if suspects else (float("nan"), float("nan"))
    return Containment(len(suspects), mean, most, float(late.mean()) if len(late) else float("nan"))


def _of(rows: np.ndarray, columns: tuple[str, ...], number: int) -> pd.DataFrame:
    table = pd.DataFrame(rows, columns=list(columns))
    return table[table["characteristic"] == number].reset_index(drop=True)
