"""Reading a through-feed station: its pitch is what the cycle is to others."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from linesim.line import units
from linesim.line.problems import KeyPath

if TYPE_CHECKING:
    from linesim.line.reading import Reader


def pitch_as_cycle(reader: Reader, station: Mapping[str, Any], path: KeyPath) -> Mapping[str, Any]:
    """The map of a station, with the pitch of its through-feed as its cycle if it has one."""
    feed = station.get("through_feed")
    if not isinstance(feed, Mapping):
        return station
    if "cycle" in station:
        rule = "has no meaning beside through_feed, whose pitch is the time from part to part"
        reader.note((*path, "cycle"), station["cycle"], rule, "remove it")
    try:
        units.parse("duration", feed.get("pitch"))
    except units.BadValue:
        return {**station, "cycle": "1 s"}  # what is wrong with the pitch is told there
    return {**station, "cycle": feed["pitch"]}
