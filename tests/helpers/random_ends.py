"""Random infeeds, outfeeds and limits of parts inside for random lines."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from tests.helpers.lines import Plain, seconds
from tests.helpers.random_batches import may_wait
from tests.helpers.random_loaders import each_carriage
from tests.helpers.random_stations import Grid, called


@st.composite
def infeed(draw: st.DrawFn, grid: Grid, people: tuple[str, ...]) -> Plain:
    """Mostly one that is never empty; else a small stock that is refilled, or arrivals."""
    how = draw(st.sampled_from(["full", "full", "full", "stock", "arrivals"]))
    if how == "stock":
        capacity = draw(st.integers(1, 6))
        at = st.integers(0, capacity - 1)
        return {"capacity": capacity, "refill": draw(_job(grid, people, at))}
    if how == "arrivals":
        return {"arrivals": {"every": draw(grid.random_duration(1, 12)), "batch": draw(st.integers(1, 3))}}
    return {}


@st.composite
def outfeed(draw: st.DrawFn, grid: Grid, people: tuple[str, ...]) -> Plain:
    """Mostly one that is never full, else a small stock that is emptied."""
    if draw(st.integers(0, 3)) < 3:
        return {}
    capacity = draw(st.integers(1, 6))
    return {"capacity": capacity, "emptied": draw(_job(grid, people, st.integers(1, capacity)))}


@st.composite
def wip_limit(draw: st.DrawFn, line: Plain) -> Plain:
    """A limit now and then; never beside a fixed round."""
    fixed = any("fixed" in one["next_call"] for one in each_carriage(line["loaders"]))
    inside = sum(int(buffer.get("at_start", "0").split()[0]) for buffer in line["buffers"].values())
    least = max(1 + may_wait(line), inside)
    return {} if fixed or draw(st.integers(0, 3)) < 3 else {"wip_limit": draw(st.integers(least, least + 5))}


@st.composite
def _job(draw: st.DrawFn, grid: Grid, people: tuple[str, ...], at: st.SearchStrategy[int]) -> Plain:
    job: Plain = {"takes": draw(grid.random_duration(0, 9))}
    by_time: Any = draw(st.booleans())
    job |= {"every": seconds(draw(grid.duration(1, 40)))} if by_time else {"at": f"{draw(at)} parts"}
    return job | draw(called(people))
