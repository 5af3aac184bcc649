"""Results by part type: what leaves, and how long it takes."""

from __future__ import annotations

import numpy as np
import pandas as pd

from linesim.engine.contract.ledger import HOUR_US, US, Fate, Ledger
from linesim.results.measures.output import ENTERED, FATE, TIME, left
from linesim.results.measures.planned import planned_us, ratio

PART_TYPE = 7  # column of departures
COLUMNS = ("part", "good_parts", "throughput_per_h", "share_of_good", "scrapped_parts", "lead_time_mean_s")


def parts(ledger: Ledger) -> pd.DataFrame:
    """A row a part type, of the parts that leave in the measured time; none where all parts are alike."""
    gone = left(ledger)
    all_good = int((gone[:, FATE] == Fate.GOOD).sum())
    rows = []
    for number, name in enumerate(ledger.part_types):
        own = gone[gone[:, PART_TYPE] == number]
        good = own[own[:, FATE] == Fate.GOOD]
        count = len(good)
        mean_s = float(np.mean(good[:, TIME] - good[:, ENTERED])) / US if count else float("nan")
        per_h = ratio(count, planned_us(ledger) / HOUR_US)
        rows.append((name, count, per_h, ratio(count, all_good), int((own[:, FATE] == Fate.SCRAPPED).sum()), mean_s))
    return pd.DataFrame(rows, columns=list(COLUMNS))
