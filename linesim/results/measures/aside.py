"""What leaves aside of the route: scrap that falls into chutes."""

from __future__ import annotations

import pandas as pd

from linesim.engine.contract.ledger import HOUR_US, Fate, Ledger
from linesim.line.model import Line
from linesim.results.measures.output import left
from linesim.results.measures.planned import planned_us, ratio

LOST_AT = 8  # column of departures


def chutes(ledger: Ledger, line: Line) -> pd.DataFrame:
    """A row a station with a chute: chute, station, scrapped_parts, parts_per_h of those that fell into it."""
    where = left(ledger, Fate.SCRAPPED)[:, LOST_AT].tolist()
    hours = planned_us(ledger) / HOUR_US
    rows = [
        (line.stations[name].chute, name, where.count(number), ratio(where.count(number), hours))
        for number, name in enumerate(ledger.stations["station"])
        if line.stations[name].chute
    ]
    return pd.DataFrame(rows, columns=["chute", "station", "scrapped_parts", "parts_per_h"])
