"""What the summaries say of things that a study found out by itself: its warm-up, and how many replications it took."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from linesim.results.labels import figure, percent
from linesim.results.precision import LOOK_AHEAD
from linesim.results.warm_up import SERIES


def warm_up_words(found: dict[str, Any]) -> str:
    """By which rule the warm-up was found, and when each series had settled; `found` as of `Pilot.about`."""
    cuts = " and ".join(f"{SERIES[column]} {cut:g} h" for column, cut in found["cuts_h"].items())
    pilot = f"{found['pilot_replications']} runs of {found['pilot_hours']:g} h from empty"
    return f"warm-up found by {found['rule']} in {pilot}: {cuts}"


def precision_words(found: dict[str, Any]) -> Iterator[str]:
    """What half width was wanted and what became of it, plainly where it was not reached; `found` as of `reached`."""
    for measure, each in found["measures"].items():
        half = each["half_width"]
        told = "none" if half is None else figure(half) if each["share"] is None else percent(each["share"])
        yield f"half width of {measure}: {each['wanted']} wanted, {told} found"
        if not each["met"]:
            needed = each["needed_replications"]
            more = f"about {needed} would do" if needed else "no number would do"
            yield f"  NOT REACHED with {found['replications']} replications; {more}"
    if not found["reached"] and all(each["met"] for each in found["measures"].values()):
        yield f"  this may be luck: it has not held for the last {LOOK_AHEAD} replications"
