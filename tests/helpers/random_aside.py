"""Random chutes and drawers for random lines: of stations that one carriage serves, now and then one for several."""

from __future__ import annotations

import itertools
from typing import Any

from hypothesis import strategies as st

from tests.helpers.lines import Plain, seconds
from tests.helpers.random_loaders import each_carriage
from tests.helpers.random_stations import Grid, called


@st.composite
def aside(draw: st.DrawFn, line: Plain, carriers: Plain, grid: Grid, people: tuple[str, ...]) -> Plain:
    """Let scrap and samples of some stations go by loader; returns the drawers."""
    drawers: Plain = {}
    for loader in carriers.values():
        for one in each_carriage({"": loader}):
            served = [name for name in one["stops"] if name in line["stations"] and _heard(line, one, name)]
            if draw(st.booleans()):
                _chutes(draw, line, loader, one, served)
            if draw(st.integers(0, 2)) == 2:
                drawers |= _drawer(draw, line, loader, one, served, grid, people)
    return drawers


def _heard(line: Plain, one: Plain, name: str) -> bool:
    """Who is called ahead or makes a round is who takes parts away there."""
    route = [place for place in line["route"] if line["buffers"].get(place, {}).get("capacity", 1)]
    onward = dict(itertools.pairwise(route)).get(name)
    takes_away = onward in one["stops"]
    return takes_away or ("fixed" not in one["next_call"] and "call_ahead" not in line["stations"][name])


def _chutes(draw: st.DrawFn, line: Plain, loader: Plain, one: Plain, served: list[str]) -> None:
    chute = ""
    for name in served:
        if "chute" not in line["stations"][name] and draw(st.booleans()):
            if not chute or draw(st.booleans()):
                chute = f"chute_{name}"
                _add_stop(loader, one, chute, draw(st.integers(0, 12)))
            line["stations"][name]["chute"] = chute


def _drawer(
    draw: st.DrawFn, line: Plain, loader: Plain, one: Plain, served: list[str], grid: Grid, people: tuple[str, ...]
) -> Plain:
    """One drawer for some of these stations."""
    free = [name for name in served if "samples" not in line["stations"][name]]
    chosen = draw(st.lists(st.sampled_from(free), min_size=1, unique=True)) if free else []
    if not chosen:
        return {}
    drawer, capacity = f"drawer_{chosen[0]}", draw(st.integers(1, 4))
    for name in chosen:
        every = draw(st.sampled_from(["1 part", "2 parts", "5 parts", "9 s", "40 s"]))
        samples: Plain = draw(
            st.sampled_from([{"every": every}, {"after_pause": "15 s"}, {"every": every, "after_pause": "8 s"}])
        )
        kinds = ("tool_change", "dressing", "measuring", "cleaning")
        stops = [stop for kind in kinds for stop in line["stations"][name].get(kind, {})]
        if bool(stops) and draw(st.booleans()):
            samples = samples | {"after": [draw(st.sampled_from(stops))]}
        line["stations"][name]["samples"] = {"to": drawer, **samples}
    _add_stop(loader, one, drawer, draw(st.integers(0, 12)))
    emptied: Plain = {"takes": draw(grid.random_duration(0, 9)), **draw(called(people))}
    by_time = {"every": seconds(draw(grid.duration(5, 60)))}
    emptied |= draw(st.just(by_time) | st.just({"at": f"{draw(st.integers(1, capacity))} parts"}))
    return {drawer: {"capacity": capacity, "emptied": emptied}}


def _add_stop(loader: Plain, one: Plain, place: str, at_m: int) -> None:
    stop: Any = f"{at_m} m"
    loader["stops"][place] = stop
    if one is not loader:
        one["stops"].append(place)
