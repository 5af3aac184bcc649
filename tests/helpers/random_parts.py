"""Random part types for random lines: a mix or orders, cycles by type and changeovers."""

from __future__ import annotations

from hypothesis import strategies as st

from tests.helpers.lines import Plain
from tests.helpers.random_stations import Grid


@st.composite
def part_types(draw: st.DrawFn, line: Plain, grid: Grid) -> Plain:
    """`parts` and perhaps `orders`, now and then; some stations then have cycles by type or change over."""
    if draw(st.integers(0, 3)) < 3:
        return {}
    names = ["small", "large", "huge"][: draw(st.integers(1, 3))]
    people = sorted(line["crews"])
    for station in line["stations"].values():
        if "call_ahead" not in station and draw(st.booleans()):
            station["cycle"] = {name: draw(grid.random_duration(1, 9)) for name in names}
        if draw(st.integers(0, 2)) == 2:
            pairs = [(before, after) for before in names for after in names if before != after and draw(st.booleans())]
            takes: Plain = {before: {} for before, _ in pairs}
            for before, after in pairs:
                takes[before][after] = draw(grid.random_duration(0, 8))
            station["changeover"] = {"takes": takes}
            if bool(people) and draw(st.booleans()):
                station["changeover"] |= {"crew": draw(st.sampled_from(people)), "people": draw(st.integers(1, 2))}
    if draw(st.booleans()):
        shares = {1: ["100 %"], 2: ["70 %", "30 %"], 3: ["50 %", "0 %", "50 %"]}[len(names)]
        return {"parts": {name: {"share": share} for name, share in zip(names, shares, strict=True)}}
    further = draw(st.lists(st.sampled_from(names), max_size=3))
    orders = [{"part": name, "size": draw(st.integers(1, 4))} for name in [*names, *further]]
    return {"parts": {name: {} for name in names}, "orders": orders}
