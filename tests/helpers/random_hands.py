"""Random stations that people load by hand, for random lines: wherever a loader leaves a way open."""

from __future__ import annotations

import itertools

from hypothesis import strategies as st

from tests.helpers.lines import Plain
from tests.helpers.random_loaders import each_carriage
from tests.helpers.random_stations import Grid, called


@st.composite
def load_by_hand(draw: st.DrawFn, line: Plain, carriers: Plain, grid: Grid, people: tuple[str, ...]) -> None:
    """Now and then some stations are loaded by hand, mostly all by the same people."""
    if not people or draw(st.integers(0, 2)) < 2:
        return
    route = [place for place in line["route"] if line["buffers"].get(place, {}).get("capacity", 1)]
    opened = [
        pair
        for pair in itertools.pairwise(route)
        if not any(set(pair) <= set(one["stops"]) for one in each_carriage(carriers))
    ]
    groups = [draw(_people(people)), draw(_people(people))]
    goes_back = any("rework" in given.get("inspection", {}) for given in line["stations"].values())
    for name in line["stations"]:
        if any(name in pair for pair in opened) and draw(st.booleans()):
            before = _neighbour_by_hand(line, opened, name)
            group = groups[0] if goes_back else before or draw(st.sampled_from(groups))
            times = {"exchange": draw(grid.random_duration(1, 6))}
            for key in ("load", "unload"):
                if draw(st.booleans()):
                    times[key] = draw(grid.random_duration(1, 6))
            line["stations"][name]["by_hand"] = {**group, **times}


def _neighbour_by_hand(line: Plain, opened: list[tuple[str, str]], name: str) -> Plain | None:
    """Who loads the station right before this one, if no loader joins the two: the same people must load this one."""
    for before, after in opened:
        given = line["stations"].get(before, {}).get("by_hand")
        if after == name and given:
            return {key: given[key] for key in ("crew", "people", "priority") if key in given}
    return None


@st.composite
def _people(draw: st.DrawFn, people: tuple[str, ...]) -> Plain:
    given: Plain = draw(called(people))
    return given if "crew" in given else {"crew": people[0]}
