"""Whether the output meets the demand, as far as the replications can tell."""

from __future__ import annotations

import math

from linesim.results.intervals import Estimate

MET, NOT_MET, NOT_SHOWN = "met", "not met", "not shown either way"


def verdict(output_per_h: Estimate, demand_per_h: float | None) -> str | None:
    """Met if the whole 95 % interval reaches the demand, not met if all of it stays below; None without a demand.

    One replication has no interval and shows nothing.
    """
    if demand_per_h is None:
        return None
    if math.isnan(output_per_h.low):
        return NOT_SHOWN
    if output_per_h.low >= demand_per_h:
        return MET
    return NOT_MET if output_per_h.high < demand_per_h else NOT_SHOWN
