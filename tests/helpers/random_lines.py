"""Random lines that a line file may hold, for Hypothesis: small, legal and nasty.

Half of them live on whole seconds with many zeros, so that a lot happens at the same instant; the others have random
durations. Every feature of a line appears, alone and together. At most one rework loop a line, as the limit on entering
a loop is proven for one, and no `fixed` round beside it.
"""

from __future__ import annotations

import itertools
from typing import Any

from hypothesis import strategies as st

from tests.helpers.lines import Plain, seconds
from tests.helpers.random_aside import aside
from tests.helpers.random_batches import batches
from tests.helpers.random_ends import infeed, outfeed, wip_limit
from tests.helpers.random_hands import load_by_hand
from tests.helpers.random_loaders import each_carriage, hold_loaders, loaders
from tests.helpers.random_parts import part_types, skip_places
from tests.helpers.random_stations import Grid, breakdowns, buffer, crews, cut_down_people, station, zones
from tests.helpers.random_weeks import keeps_to, week


@st.composite
def lines(
    draw: st.DrawFn, ties: bool | None = None, shared_rail: bool | None = None, skips: bool | None = None
) -> Plain:
    """Any line. ties: whole seconds only, random durations only, or (None) either; shared_rail: likewise, of carriages
    that meet at buffers; skips: likewise, of part types that skip places."""
    grid = Grid(whole=draw(st.booleans()) if ties is None else ties)
    shared_rail = draw(st.integers(0, 5)) == 5 if shared_rail is None else shared_rail
    names = [f"s{number}" for number in range(1, draw(st.integers(2, 5)) + 1)]
    people = draw(crews(grid))
    stations = {name: draw(station(grid, tuple(people), name)) for name in names}
    for name, given in stations.items():  # each size has a name of its own
        if "characteristics" in given:
            given["characteristics"] = {f"{size}_{name}": of for size, of in given["characteristics"].items()}
    buffers: Plain = {}
    route: list[str] = ["stocker"] if draw(st.integers(0, 3)) < 3 else []
    for name in names:
        if name != "s1" and len(buffers) < 3 and ((shared_rail and not buffers) or draw(st.booleans())):
            buffers[f"b{name[1:]}"] = draw(buffer(grid, least=1 if shared_rail else 0))
            route.append(f"b{name[1:]}")
        route.append(name)
    if draw(st.integers(0, 3)) < 3:
        route.append("tray")
    if draw(st.booleans()):
        draw(_inspect(stations, buffers, route))
    line: Plain = {
        "name": "random line",
        "route": route,
        "infeed": {"stocker": draw(infeed(grid, tuple(people)))} if "stocker" in route else {},
        "outfeed": {"tray": draw(outfeed(grid, tuple(people)))} if "tray" in route else {},
        "stations": stations,
        "buffers": buffers,
        "crews": people,
    }
    days = draw(week())
    for kind, owners in (("station", stations), ("crew", people)):
        for owner in owners.values():
            owner.update(draw(keeps_to(days, kind, tuple(people))))
    carriers = draw(loaders(line, grid, shared_rail))
    for carrier in carriers.values():
        carrier.update(draw(keeps_to(days, "loader")))
        carrier["breakdowns"] = draw(breakdowns(grid, tuple(people), at_most=1, of_loader=True))
    for one in each_carriage(carriers):
        one["zone"] = draw(zones(grid, tuple(people)))
    if any("fixed" in one["next_call"] for one in each_carriage(carriers)):  # which counts on an empty line
        for place in buffers.values():
            place.pop("at_start", None)
    draw(load_by_hand(line, carriers, grid, tuple(people)))
    draw(_call_ahead(line, carriers, grid))
    draw(hold_loaders(line, carriers))
    line["drawers"] = draw(aside(line, carriers, grid, tuple(people)))
    line["loaders"] = carriers
    _leave_room_for_rounds(line)
    line.update(draw(part_types(line, grid, skips)))
    draw(batches(line, grid))
    counts = [crew["people"] for crew in people.values()]
    most = [max(count.values()) if isinstance(count, dict) else count for count in counts]
    cut_down_people(line, min(most, default=1))
    whole = {**line, **draw(wip_limit(line)), **days}
    if len(whole.get("parts", {})) > 1 and (draw(st.booleans()) if skips is None else skips):
        draw(skip_places(whole))
    return whole


def _leave_room_for_rounds(line: Plain) -> None:
    """A fixed round that brings a part before it takes one away would wait for ever at a buffer that begins full."""
    for carriage in each_carriage(line["loaders"]):
        for place in carriage["stops"] if "fixed" in carriage["next_call"] else ():
            buffer = line["buffers"].get(place, {})
            if "at_start" in buffer:
                count = min(int(buffer["at_start"].split()[0]), buffer["capacity"] - 1)
                buffer["at_start"] = f"{count} parts"


@st.composite
def _call_ahead(draw: st.DrawFn, line: Plain, carriers: Plain, grid: Grid) -> None:
    """Let some stations call their loader ahead: those that one takes parts from, on no fixed round, without rework."""
    route = [place for place in line["route"] if line["buffers"].get(place, {}).get("capacity", 1)]
    for name, after in itertools.pairwise(route):
        hears = [one for one in each_carriage(carriers) if {name, after} <= set(one["stops"])]
        heard = any("fixed" not in one["next_call"] for one in hears)
        station = line["stations"].get(name, {"inspection": {"rework": None}})
        if heard and "rework" not in station.get("inspection", {}) and draw(st.booleans()):
            station["call_ahead"] = seconds(draw(grid.duration(1, 12)))


@st.composite
def serial_lines(draw: st.DrawFn) -> Plain:
    """One machine a station, direct hand-over or buffers, working clocks, no crew, no scrap: more room never hurts."""
    grid = Grid(whole=draw(st.booleans()))
    names = [f"s{number}" for number in range(1, draw(st.integers(2, 5)) + 1)]
    stations: Plain = {}
    for name in names:
        stations[name] = {"cycle": draw(grid.random_duration(least=1 if name == "s1" else 0, most=9))}
        if draw(st.booleans()):
            stop = {"every": f"{draw(st.integers(1, 5))} parts", "takes": seconds(draw(grid.duration(0, 8)))}
            stations[name]["tool_change"] = {"t": stop}
        stations[name]["breakdowns"] = draw(breakdowns(grid, (), at_most=2, serial=True))
    buffers = {f"b{name[1:]}": {"capacity": draw(st.integers(0, 3))} for name in names[1:]}
    route = ["s1"] + [place for name in names[1:] for place in (f"b{name[1:]}", name)]
    return {
        "name": "random serial line",
        "route": ["stocker", *route, "tray"],
        "infeed": {"stocker": {}},
        "outfeed": {"tray": {}},
        "stations": stations,
        "buffers": buffers,
    }


@st.composite
def deterministic_serial_lines(draw: st.DrawFn) -> tuple[Plain, Plain]:
    """A serial line without chance, and the same line with every time doubled; whole seconds."""
    names = [f"s{number}" for number in range(1, draw(st.integers(1, 5)) + 1)]
    plans = {name: (draw(st.integers(0 if name != "s1" else 1, 9)), draw(_plan())) for name in names}
    places = {f"b{name[1:]}": (draw(st.integers(1, 3)), draw(st.integers(0, 6))) for name in names[1:]}

    def built(factor: int) -> Plain:
        def time(value: int) -> Any:
            return seconds(factor * value)

        def cause(mtbf: int, mttr: int, clock: str, part: str) -> Plain:
            laws = {
                key: {"family": "constant", "value": time(value)} for key, value in (("mtbf", mtbf), ("mttr", mttr))
            }
            return {**laws, "clock": clock, "part": part}

        stations = {
            name: {
                "cycle": time(cycle),
                "breakdowns": {"jam": cause(*plan["jam"])} if plan["jam"] else {},
                "tool_change": {"t": {**plan["stop"], "takes": time(plan["takes"])}} if plan["stop"] else {},
            }
            for name, (cycle, plan) in plans.items()
        }
        buffers = {name: {"capacity": capacity, "dwell": time(dwell)} for name, (capacity, dwell) in places.items()}
        route = ["s1"] + [place for name in names[1:] for place in (f"b{name[1:]}", name)]
        return {
            "name": "deterministic line",
            "route": ["stocker", *route, "tray"],
            "infeed": {"stocker": {}},
            "outfeed": {"tray": {}},
            "stations": stations,
            "buffers": buffers,
        }

    return built(1), built(2)


@st.composite
def _plan(draw: st.DrawFn) -> Plain:
    """Breakdown and tool change of a station without chance, in whole seconds and parts."""
    every = draw(st.integers(1, 6))
    jam = st.tuples(
        st.integers(1, 40),
        st.integers(0, 12),
        st.sampled_from(["working", "calendar"]),
        st.sampled_from(["resume", "restart", "scrap"]),
    ).filter(lambda it: it[0] > 9)  # at least one operation ends between two breakdowns
    return {
        "jam": draw(st.none() | jam),
        "stop": draw(
            st.none() | st.just({"every": f"{every} parts", "age": f"{draw(st.integers(0, every - 1))} parts"})
        ),
        "takes": draw(st.integers(0, 9)),
    }


def _tool_of(stations: Plain, size: str) -> bool:
    """Whether the tool that makes this size is ever renewed."""
    return any(
        "after" in given["characteristics"][size]
        for given in stations.values()
        if size in given.get("characteristics", {})
    )


@st.composite
def _gauge(draw: st.DrawFn, tool: bool) -> Plain:
    """How a size is measured: with or without an error, each part or some, with or without feedback."""
    given: Plain = {"grr": draw(st.sampled_from(["0 %", "10 %", "60 %"]))}
    if draw(st.booleans()):
        every = {"every": draw(st.sampled_from(["1 part", "2 parts", "3 parts", "7 s", "20 s"]))}
        ends = {"first_and_last": True}
        given["sample"] = draw(st.sampled_from([every, ends, every | ends] if tool else [every]))
        if draw(st.booleans()):
            given["sample"] = given["sample"] | {"after_pause": draw(st.sampled_from(["8 s", "15 s"]))}
    if draw(st.booleans()):
        given["feedback"] = {
            "gain": draw(st.sampled_from([0.01, 0.3, 1, 3])),
            "dead_band": draw(st.sampled_from(["0 um", "0.5 um"])),
            "average": draw(st.sampled_from(["1 part", "3 parts"])),
            "only_new": draw(st.booleans()),
            "outlasts_tools": draw(st.booleans()),
        }
    return given


@st.composite
def _inspect(draw: st.DrawFn, stations: Plain, buffers: Plain, route: list[str]) -> None:
    """Let one station measure, and some before it make bad parts; rejects are scrapped or go back."""
    share = st.sampled_from(["0 %", "10 %", "50 %", "100 %"])
    where = draw(st.sampled_from([name for name in route if name in stations]))
    gauge: Plain = {"catches": draw(share), "false_alarms": draw(st.sampled_from(["0 %", "0 %", "30 %"]))}
    earlier = [
        place for place in route[: route.index(where)] if place in stations or buffers.get(place, {}).get("capacity")
    ]
    if bool(earlier) and draw(st.booleans()):
        gauge["rework"] = {"to": draw(st.sampled_from(earlier)), "at_most": draw(st.integers(1, 3))}
        for place in route[route.index(gauge["rework"]["to"]) : route.index(where) + 1]:
            if place in stations and stations[place]["cycle"] == seconds(0):
                stations[place]["cycle"] = seconds(1)  # a loop must take time
    sizes = [
        size for name in route[: route.index(where) + 1] for size in stations.get(name, {}).get("characteristics", {})
    ]
    if sizes:
        read = draw(st.lists(st.sampled_from(sizes), unique=True))
        gauge["measures"] = {size: draw(_gauge(_tool_of(stations, size))) for size in read}
    stations[where]["inspection"] = gauge
    for name in stations:
        if draw(st.booleans()):
            stations[name]["defects"] = {"size": draw(share)}
