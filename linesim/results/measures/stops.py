"""Breakdowns and stops, and the crews that answer them."""

from __future__ import annotations

import pandas as pd

from linesim.engine.contract.ledger import US, Ledger
from linesim.results.measures.planned import ratio


def stoppages(ledger: Ledger) -> pd.DataFrame:
    """A row a cause: owner, kind, name, count, waiting_s, lasting_s, share (of the measured time, waiting included)."""
    told = ledger.stoppages
    return pd.DataFrame(
        {
            "owner": told["owner"],
            "kind": told["kind"],
            "name": told["name"],
            "count": told["count"],
            "waiting_s": told["waiting_us"] / US,
            "lasting_s": told["lasting_us"] / US,
            "share": (told["waiting_us"] + told["lasting_us"]) / ledger.measured_us,
        }
    )


def crews(ledger: Ledger) -> pd.DataFrame:
    """A row a crew: its people, their use, share of time all are busy, calls, those that waited, mean wait of all."""
    rows = [
        {
            "crew": crew.crew,
            "people": crew.people,
            "use": ratio(crew.busy_us, crew.people * ledger.measured_us),
            "all_busy_share": ratio(crew.all_busy_us, ledger.measured_us),
            "calls": crew.calls,
            "calls_waited": crew.calls_waited,
            "share_waited": ratio(crew.calls_waited, crew.calls),
            "mean_wait_s": ratio(crew.waited_us / US, crew.calls),
        }
        for crew in ledger.crews.itertuples(index=False)
    ]
    columns = ["crew", "people", "use", "all_busy_share", "calls", "calls_waited", "share_waited", "mean_wait_s"]
    return pd.DataFrame(rows, columns=columns)
