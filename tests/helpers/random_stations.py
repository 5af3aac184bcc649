"""Random stations, buffers, breakdowns, stops and crews for random lines."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from hypothesis import strategies as st

from tests.helpers.lines import Plain, constant, seconds


@dataclass(frozen=True)
class Grid:
    """Whole seconds with many zeros, or times to the millisecond that may be random."""

    whole: bool

    def duration(self, least: int, most: int) -> st.SearchStrategy[float]:
        """Seconds between two whole numbers of them."""
        if self.whole:
            return st.integers(least, most).map(float)
        return st.integers(1000 * least, 1000 * most).map(lambda ms: ms / 1000)

    def random_duration(self, least: int, most: int) -> st.SearchStrategy[Any]:
        """A constant on the whole grid; off it any family."""
        plain = self.duration(least, most).map(seconds)
        if self.whole:
            return plain
        mean = st.integers(max(1, 1000 * least), 1000 * most).map(lambda ms: seconds(ms / 1000))
        family = st.sampled_from(["exponential", "gamma", "lognormal", "weibull", "uniform", "triangular", "normal"])

        def law(pair: tuple[str, str]) -> Plain:
            name, by_mean = pair
            spread = {"exponential": {}, "normal": {"cv": 0.2}, "uniform": {"cv": 0.4}, "triangular": {"cv": 0.3}}
            return {"family": name, "mean": by_mean, **spread.get(name, {"cv": 0.7})}

        return plain | st.tuples(family, mean).map(law)

    def interval(self, least: int, most: int) -> st.SearchStrategy[Any]:
        """A time to failure or repair: a plain time would be exponential."""
        fixed = self.duration(least, most).map(constant)
        return fixed if self.whole else fixed | self.duration(max(1, least), most).map(seconds)


@st.composite
def crews(draw: st.DrawFn, grid: Grid) -> Plain:
    """None, one or two crews."""
    names = ["technician", "setter"][: draw(st.integers(0, 2))]
    return {
        name: {"people": draw(st.integers(1, 2)), "response": draw(st.just(seconds(0)) | grid.random_duration(0, 6))}
        for name in names
    }


@st.composite
def called(draw: st.DrawFn, people: tuple[str, ...]) -> Plain:
    """Who is called for a breakdown or stop, if anybody: one or several crews, one or two of their people."""
    if not people or draw(st.booleans()):
        return {}
    crew = draw(st.lists(st.sampled_from(people), min_size=1, unique=True))
    given: Plain = {"crew": crew if len(crew) > 1 or draw(st.booleans()) else crew[0]}
    given["people"] = draw(st.sampled_from([1, 1, 2]))  # cut down where there are fewer
    if draw(st.integers(0, 2)) == 2:
        given["priority"] = draw(st.sampled_from(["high", "normal", "low"]))
    return given


def cut_down_people(part: Any, most: int) -> None:
    """Ask for no more people at a time than there are."""
    for value in part.values() if isinstance(part, dict) else ():
        cut_down_people(value, most)
    if isinstance(part, dict) and "crew" in part and "people" in part:
        part["people"] = min(part["people"], most)


@st.composite
def breakdowns(
    draw: st.DrawFn,
    grid: Grid,
    people: tuple[str, ...],
    at_most: int = 2,
    of_loader: bool = False,
    serial: bool = False,
) -> Plain:
    """Causes of failure. serial: working clock, part resumed, so that an early start never does harm."""
    causes: Plain = {}
    for number in range(draw(st.integers(0, at_most))):
        cause: Plain = {"mtbf": draw(grid.interval(10, 90)), "mttr": draw(grid.interval(0, 15))}
        if not serial:
            cause["clock"] = draw(st.sampled_from(["working", "calendar"]))
            if not of_loader:
                cause["part"] = draw(st.sampled_from(["resume", "restart", "scrap"]))
            cause |= draw(called(people))
        causes[f"cause_{number}"] = cause
    return causes


@st.composite
def station(draw: st.DrawFn, grid: Grid, people: tuple[str, ...], name: str) -> Plain:
    """One step of the route. Only the first, s1, must take time: parts can't run through the line in no time."""
    is_first = name == "s1"
    given: Plain = {"cycle": draw(grid.duration(1, 9).map(seconds) if is_first else grid.random_duration(0, 9))}
    if draw(st.booleans()):
        given["machines"] = draw(st.integers(1, 3))
    if draw(st.integers(0, 3)) == 3:
        given["blocking"] = "before_service"
    if draw(st.booleans()):
        given["breakdowns"] = draw(breakdowns(grid, people))
    for kind in ("tool_change", "dressing", "measuring", "cleaning"):
        if draw(st.integers(0, 3)) == 3:
            given[kind] = {"job": draw(_stop(grid, people))}
    if draw(st.integers(0, 4)) == 4:
        given["strokes"] = draw(_strokes(grid))
    if draw(st.integers(0, 4)) == 4:
        given["overstay"] = seconds(draw(grid.duration(0, 9)))
    if draw(st.integers(0, 3)) == 3:
        given["tool_change"] = {"cutter": draw(_tool_that_breaks(grid, people))}
    if "dressing" in given and draw(st.booleans()):
        wheel = {"every": f"{draw(st.integers(1, 4))} dressings", "takes": draw(grid.random_duration(0, 8))}
        given["tool_change"] = given.get("tool_change", {}) | {"wheel": wheel}
    if draw(st.integers(0, 3)) == 3:
        given["machines"] = {
            f"{name}_{letter}": draw(_own_machine(grid, people, given)) for letter in "abc"[: draw(st.integers(1, 3))]
        }
    if draw(st.integers(0, 3)) == 3:
        stops = [name for kind in ("tool_change", "dressing", "measuring", "cleaning") for name in given.get(kind, {})]
        given["characteristics"] = draw(_sizes(tuple(stops)))
    return given


@st.composite
def _tool_that_breaks(draw: st.DrawFn, grid: Grid, people: tuple[str, ...]) -> Plain:
    """A life in parts or working time, mostly with a planned change in the same unit."""
    given: Plain = {"takes": draw(grid.random_duration(0, 8))}
    planned = draw(st.integers(0, 3)) > 0
    if draw(st.booleans()):
        given["life"] = f"{draw(st.integers(1, 9))} parts"
        if not grid.whole:
            given["life"] = {"family": "weibull", "mean": f"{draw(st.integers(2, 9))} parts", "shape": 2}
        if planned:
            given["every"] = f"{draw(st.integers(1, 9))} parts"
    else:
        given["life"] = draw(grid.interval(10, 40))  # at least an operation ends between two
        if planned:
            given |= {"every": seconds(draw(st.integers(10, 40))), "clock": "working"}
    if draw(st.booleans()):
        given["breakage"] = {"takes": draw(grid.random_duration(0, 12))}
        if bool(people) and draw(st.booleans()):
            given["breakage"]["crew"] = draw(st.sampled_from(people))
    return _as_any_stop(draw, people, given)


@st.composite
def _strokes(draw: st.DrawFn, grid: Grid) -> Plain:
    given: Plain = {"number": {"0": "40 %", "1": "35 %", "4": "25 %"}, "takes": draw(grid.random_duration(0, 3))}
    if draw(st.booleans()):
        given["at_most"] = draw(st.integers(0, 4))
    return given


@st.composite
def _own_machine(draw: st.DrawFn, grid: Grid, people: tuple[str, ...], station: Plain) -> Plain:
    """What differs at one machine: its cycle, breakdowns and tool change, or some of the station's taken away."""
    own: Plain = {}
    if draw(st.booleans()):
        own["cycle"] = draw(grid.duration(1, 9).map(seconds))
    if draw(st.booleans()):
        own["breakdowns"] = draw(breakdowns(grid, people))
    elif station.get("breakdowns") and draw(st.booleans()):
        own["breakdowns"] = {"cause_0": None}
    if draw(st.integers(0, 3)) == 3:
        own["tool_change"] = {"own": draw(_stop(grid, people))}
    return own


@st.composite
def _sizes(draw: st.DrawFn, stops: tuple[str, ...]) -> Plain:
    """One or two sizes that wear or not; the caller makes their names unlike those of other stations."""
    limits = {"low": "-1 um", "high": f"{draw(st.integers(0, 3))} um"}
    sizes: Plain = {}
    for name in ["bore", "face"][: draw(st.integers(1, 2))]:
        given: Plain = {"tolerance": draw(st.sampled_from(["2 um", "3 um", limits]))}
        given["spread"] = draw(st.sampled_from(["0 um", "0.3 um", "1 um"]))
        given["drift"] = draw(st.sampled_from(["0 um/part", "0.3 um/part", "-0.7 nm/part"]))
        if draw(st.booleans()):
            given["offset"] = draw(st.sampled_from(["0.4 um", "-1 um"]))
        if bool(stops) and draw(st.booleans()):
            given["after"] = {draw(st.sampled_from(stops)): draw(st.sampled_from(["0 um", "0.5 um"]))}
        sizes[name] = given
    return sizes


def _as_any_stop(draw: st.DrawFn, people: tuple[str, ...], given: Plain) -> Plain:
    """Whom a stop calls, whether the machine is loaded meanwhile, and what is scrapped after it."""
    given |= draw(called(people))
    if draw(st.integers(0, 3)) == 3:
        given["overlaps"] = "loading"
    if given.get("every") not in ("1 parts", "2 parts") and draw(st.integers(0, 4)) == 4:
        given["start_up_scrap"] = f"{draw(st.integers(1, 2))} parts"
    return given


@st.composite
def _stop(draw: st.DrawFn, grid: Grid, people: tuple[str, ...]) -> Plain:
    given: Plain = {"takes": draw(grid.random_duration(0, 8))}
    if draw(st.booleans()):
        every = draw(st.integers(1, 9))
        given["every"] = f"{every} parts"
        ages: st.SearchStrategy[str] = st.integers(0, every - 1).map(lambda age: f"{age} parts")
    else:
        period = draw(st.integers(10, 60))
        given["every"] = seconds(period)
        given["clock"] = draw(st.sampled_from(["calendar", "working"]))
        ages = grid.duration(0, period - 1).map(seconds)
    if draw(st.booleans()):
        given["age"] = draw(ages)
    return _as_any_stop(draw, people, given)


@st.composite
def zones(draw: st.DrawFn, grid: Grid, people: tuple[str, ...]) -> Plain:
    """Up to two zones that people open."""
    opened: Plain = {}
    for number in range(draw(st.sampled_from([0, 0, 1, 2]))):
        period = draw(st.integers(5, 60))
        zone: Plain = {"every": seconds(period), "takes": draw(grid.random_duration(0, 8))}
        zone["clock"] = draw(st.sampled_from(["calendar", "working"]))
        if draw(st.booleans()):
            zone["age"] = seconds(draw(grid.duration(0, period - 1)))
        zone |= draw(called(people))
        opened[f"zone_{number}"] = zone
    return opened


@st.composite
def buffer(draw: st.DrawFn, grid: Grid, least: int = 0) -> Plain:
    """Up to three places, now and then none at all; sometimes with parts in it at the start."""
    capacity = draw(st.integers(least, 3))
    dwell = draw(st.just(0.0) | grid.duration(0, 12)) if capacity else 0.0
    at_start = draw(st.sampled_from([0, 0, 0, 1, capacity]))
    given: Plain = {"capacity": capacity, "dwell": seconds(dwell)}
    return given | {"at_start": f"{at_start} parts"} if 0 < at_start <= capacity else given
