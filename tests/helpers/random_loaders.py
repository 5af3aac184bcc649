"""Random loaders for random lines: each serves a stretch of the route; two may meet at a buffer, never elsewhere."""

from __future__ import annotations

import itertools
from typing import Any

from hypothesis import strategies as st

from tests.helpers.lines import AT_ONCE, Plain, seconds
from tests.helpers.random_stations import Grid


def each_carriage(carriers: Plain) -> list[Plain]:
    """The map that says how each carriage chooses and where it stops: its loader's, if it is the only one."""
    return [one for loader in carriers.values() for one in loader.get("carriages", {"": loader}).values()]


@st.composite
def loaders(draw: st.DrawFn, line: Plain, grid: Grid, shared_rail: bool) -> Plain:
    """No, one or two loaders; one with several carriages. A place of capacity 0 is none: its neighbours are."""
    route = [place for place in line["route"] if line["buffers"].get(place, {}).get("capacity", 1)]
    stretches = [(0, len(route) - 1)] if shared_rail else draw(_stretches(route, line))
    return {
        f"gantry_{number}": draw(_loader(line, route[first : last + 1], grid, shared_rail))
        for number, (first, last) in enumerate(stretches, start=1)
    }


@st.composite
def hold_loaders(draw: st.DrawFn, line: Plain, carriers: Plain) -> None:
    """Let some stops of stations that a loader serves keep it busy."""
    route = [place for place in line["route"] if line["buffers"].get(place, {}).get("capacity", 1)]
    pairs = [set(pair) for pair in itertools.pairwise(route)]
    for name, station in line["stations"].items():
        served = any(name in pair and pair <= set(one["stops"]) for one in each_carriage(carriers) for pair in pairs)
        for kind in ("tool_change", "dressing", "measuring", "cleaning") if served else ():
            for stop in station.get(kind, {}).values():
                if "overlaps" not in stop and draw(st.integers(0, 2)) == 2:
                    stop["holds"] = "loader"


@st.composite
def _stretches(draw: st.DrawFn, route: list[str], line: Plain) -> list[tuple[int, int]]:
    """Ranges of the route, from and to, with at least two places each."""
    how_many = draw(st.sampled_from([0, 1, 1, 1, 2]))
    last_place = len(route) - 1
    if how_many == 0:
        return []
    if how_many == 1 or draw(st.booleans()):
        whole = draw(st.booleans())
        first = 0 if whole else draw(st.integers(0, last_place - 1))
        last = last_place if whole else draw(st.integers(first + 1, last_place))
        return [(first, last)]
    meeting = [at for at in range(1, last_place) if route[at] in line["buffers"]]
    if not meeting:
        return [(0, last_place)]
    at = draw(st.sampled_from(meeting))
    ranges = [(draw(st.integers(0, at - 1)), at), (at, draw(st.integers(at + 1, last_place)))]
    return [pair for pair in ranges if not _goes_back_across(line, route, at, pair)]


def _goes_back_across(line: Plain, route: list[str], at: int, pair: tuple[int, int]) -> bool:
    """Whether rejects would cross the meeting place on their way back to this loader; such lines are left out."""
    for name, station in line["stations"].items():
        rework = station.get("inspection", {}).get("rework")
        if rework and route.index(rework["to"]) <= at <= route.index(name) and pair[0] == at:
            return True
    return False


@st.composite
def _loader(draw: st.DrawFn, line: Plain, places: list[str], grid: Grid, shared_rail: bool) -> Plain:
    positions = grid.duration(0, 12) if draw(st.booleans()) else None
    stops: Plain = {}
    for number, place in enumerate(places):
        machines = line["stations"].get(place, {}).get("machines", 1)
        copies = machines if isinstance(machines, int) else len(machines)
        at = [draw(positions) if positions is not None else 2.0 * number + 0.5 * copy for copy in range(copies)]
        stops[place] = [f"{one} m" for one in at] if copies > 1 else f"{at[0]} m"
        if draw(st.integers(0, 5)) == 5:
            stops[place] = {"at": stops[place], **_some_times(draw, grid)}
    handling = {key: seconds(draw(grid.duration(0, 4))) for key in ("pick", "place", "load", "unload", "exchange")}
    given: Plain = {
        "stops": stops,
        "speed": "1 m/s" if grid.whole else "2.5 m/s",
        "acceleration": AT_ONCE if grid.whole else "3 m/s2",
        **handling,
        "grippers": draw(st.integers(1, 2)),
    }
    if given["grippers"] == 2:
        given["exchanges_per_tour"] = draw(st.integers(1, 3))
    given["next_call"] = draw(_next_call(line, places))
    if draw(st.integers(0, 3)) == 3:
        given["park_at"] = draw(st.sampled_from(places))
    if shared_rail:
        draw(_carriages(line, places, given))
    return given


@st.composite
def _carriages(draw: st.DrawFn, line: Plain, places: list[str], given: Plain) -> None:
    """Let two or three carriages share the rail: buffers cut the places into stretches, each of which one serves.

    One may have several stretches with another's in between, so that their ways cross. Rejects go back within one.
    """
    loops = [
        (places.index(rework["to"]), places.index(name))
        for name, station in line["stations"].items()
        if (rework := station.get("inspection", {}).get("rework"))
    ]
    cuts = [
        at
        for at in range(1, len(places) - 1)
        if places[at] in line["buffers"] and not any(first < at < last for first, last in loops)
    ]
    stretches = [places[a : b + 1] for a, b in itertools.pairwise([0, *cuts, len(places) - 1])]
    served: dict[int, list[list[str]]] = {}
    for number, stretch in enumerate(stretches):
        served.setdefault(number if number < 2 else draw(st.integers(0, 2)), []).append(stretch)
    carriages: list[tuple[float, Plain]] = []
    for own in served.values():
        stops = list(dict.fromkeys(place for stretch in own for place in stretch))
        first = draw(st.sampled_from(stops))
        own_rule = draw(_next_call(line, own[0])) if len(own) == 1 else draw(st.sampled_from(["nearest", stops]))
        rest: Plain = {"stops": [first, *(place for place in stops if place != first)], "next_call": own_rule}
        if draw(st.integers(0, 3)) == 3:
            rest["park_at"] = draw(st.sampled_from(stops))
        if draw(st.booleans()):
            rest["grippers"] = draw(st.integers(1, 2))
            rest["exchanges_per_tour"] = 1
        carriages.append((_first_position_m(given["stops"][first]), rest))
    carriages.sort(key=lambda carriage: carriage[0])
    least_m = min((b[0] - a[0] for a, b in itertools.pairwise(carriages)), default=0.0)
    if least_m > 0:
        given["carriages"] = {f"c{number}": rest for number, (_, rest) in enumerate(carriages, start=1)}
        given["apart"] = f"{draw(st.sampled_from([least_m, min(least_m, 0.5)]))} m"


def _first_position_m(stop: Any) -> float:
    at = stop["at"] if isinstance(stop, dict) else stop
    return float((at[0] if isinstance(at, list) else at).removesuffix(" m"))


def _some_times(draw: st.DrawFn, grid: Grid) -> Plain:
    keys = draw(st.lists(st.sampled_from(["pick", "place", "load", "unload", "exchange"]), unique=True, max_size=2))
    return {key: seconds(draw(grid.duration(0, 4))) for key in keys}


@st.composite
def _next_call(draw: st.DrawFn, line: Plain, places: list[str]) -> Any:
    rules: list[st.SearchStrategy[Any]] = [
        st.sampled_from(["downstream_first", "longest_waiting", "nearest"]),
        st.permutations(places),
    ]
    starts = [place for place in places[:-1] if place in line["route"]]
    reworks = any("rework" in station.get("inspection", {}) for station in line["stations"].values())
    if not reworks:  # a round that names every place from which the loader fetches parts never waits in vain
        rules.append(st.just({"fixed": starts}) | st.just({"fixed": starts[::-1]}))
    return draw(st.one_of(rules))
