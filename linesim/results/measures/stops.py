"""Breakdowns and stops, and the crews that answer them."""

from __future__ import annotations

import pandas as pd

from linesim.engine.contract.ledger import US, Ledger
from linesim.line.model import Line
from linesim.line.stop_costs import costs_each


def stoppages(ledger: Ledger, line: Line) -> pd.DataFrame:
    """A row a cause: owner, kind, name, count, waiting_s, lasting_s, share (of the measured time, waiting included),
    cost [currency] of all that began."""
    told = ledger.stoppages
    return pd.DataFrame(
        {
            "owner": told["owner"],
            "kind": told["kind"],
            "name": told["name"],
            "count": told["begun"],
            "waiting_s": told["waiting_us"] / US,
            "lasting_s": told["lasting_us"] / US,
            "share": (told["waiting_us"] + told["lasting_us"]) / ledger.measured_us,
            "cost": stop_costs(ledger, line),
        }
    )


def stop_costs(ledger: Ledger, line: Line) -> list[float]:
    """Of each cause, in their order: what all that began cost [currency]."""
    each = costs_each(line)
    return [stop.begun * each.get((stop.owner, stop.kind, stop.name), 0.0) for stop in ledger.of_stoppages]


def crews(ledger: Ledger) -> pd.DataFrame:
    """A row a crew: its people, their use, share of time all are busy, calls, those that waited, mean wait of all.

    use: busy time / time on duty; what is finished after the end of the shift counts as busy. Waits are clock time.
    """
    told = ledger.crews
    calls = told["calls"].where(told["calls"] > 0)  # nobody called: the mean wait is not defined
    return pd.DataFrame(
        {
            "crew": told["crew"],
            "people": told["people"],
            "use": told["busy_us"] / told["duty_us"].where(told["duty_us"] > 0),
            "all_busy_share": told["all_busy_us"] / ledger.measured_us,
            "calls": told["calls"],
            "calls_waited": told["calls_waited"],
            "share_waited": told["calls_waited"] / calls,
            "mean_wait_s": told["waited_us"] / US / calls,
        }
    )
