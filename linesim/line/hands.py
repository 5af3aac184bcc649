"""People who load machines by hand: the hands that serve a group of stations, and which neighbours they join.

Stations that call for the same people are one group, so that somebody can carry a part from one of them to the next.
Where no loader joins two neighbours and one of them is loaded by hand, the people of that station carry.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from linesim.line.calendar import has_calendar, person_h_per_week, planned_h_per_week
from linesim.line.model import ByHand, Called, Line

PREFIX = "hands_of_"


@dataclass(frozen=True)
class Hands:
    """Stations, in route order, that the same people load by hand."""

    stations: Mapping[str, ByHand]

    @property
    def called(self) -> Called:
        """Who is called; it is the same for all of them."""
        return next(iter(self.stations.values()))


def hands(line: Line) -> dict[str, Hands]:
    """Name -> the hands of each group of stations: "hands_of_gauge", by the first of them on the route."""
    groups: dict[tuple[object, ...], dict[str, ByHand]] = {}
    for name in line.route:
        station = line.stations.get(name)
        if station and station.by_hand:
            groups.setdefault(_who(station.by_hand), {})[name] = station.by_hand
    return {f"{PREFIX}{next(iter(stations))}": Hands(stations) for stations in groups.values()}


def _who(called: Called) -> tuple[object, ...]:
    return called.crew, called.people, called.priority


def join(line: Line, start: str, end: str) -> tuple[str, ...]:
    """The hands that join two places, no loader doing so: of a sound line one group at most.

    What comes in or leaves where the route has no infeed or outfeed needs nobody.
    """
    if not {start, end} <= {*line.route}:
        return ()
    return tuple(name for name, each in hands(line).items() if start in each.stations or end in each.stations)


def tours_at_once(line: Line, each: Hands) -> int:
    """How many of these people can be on their way with parts at one time: each tour has a machine of its own."""
    people = sum(line.crews[crew].most_people // each.called.people for crew in each.called.crew)
    return max(1, min(people, sum(line.stations[name].machines for name in each.stations)))


def people_at_hand(line: Line, each: Hands) -> float:
    """Mean number of tours that the people of the preferred crew could make at a time in planned time."""
    crew = line.crews[each.called.crew[0]]
    if not has_calendar(line):
        return crew.most_people / each.called.people
    return person_h_per_week(line, crew) / planned_h_per_week(line) / each.called.people
