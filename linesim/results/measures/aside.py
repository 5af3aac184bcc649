"""What leaves aside of the route: scrap that falls into chutes, and samples that lie in drawers."""

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
        for number, (name, *_) in enumerate(ledger.of_stations)
        if line.stations[name].chute
    ]
    return pd.DataFrame(rows, columns=["chute", "station", "scrapped_parts", "parts_per_h"])


def drawers(ledger: Ledger, line: Line) -> pd.DataFrame:
    """A row a station whose samples go to a drawer: drawer, station, sampled_parts, parts_per_h, skipped_samples."""
    where = left(ledger, Fate.SAMPLED)[:, LOST_AT].tolist()
    hours = planned_us(ledger) / HOUR_US
    rows = [
        (samples.to, name, where.count(number), ratio(where.count(number), hours), skipped)
        for number, (name, *_, skipped) in enumerate(ledger.of_stations)
        if (samples := line.stations[name].samples)
    ]
    return pd.DataFrame(rows, columns=["drawer", "station", "sampled_parts", "parts_per_h", "skipped_samples"])
