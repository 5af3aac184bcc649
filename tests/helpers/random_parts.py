"""Random part types for random lines: a mix or orders, cycles by type, changeovers, and places that they skip."""

from __future__ import annotations

from hypothesis import strategies as st

from linesim.line import LineError, load_line
from tests.helpers.lines import Plain, seconds
from tests.helpers.random_loaders import each_carriage
from tests.helpers.random_stations import Grid


@st.composite
def part_types(draw: st.DrawFn, line: Plain, grid: Grid, several: bool | None = None) -> Plain:
    """`parts` and perhaps `orders`, now and then; some stations then have cycles by type or change over.

    several: at least two types, in every line.
    """
    if not several and draw(st.integers(0, 3)) < 3:
        return {}
    names = ["small", "large", "huge"][: draw(st.integers(2 if several else 1, 3))]
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


@st.composite
def skip_places(draw: st.DrawFn, line: Plain) -> None:
    """Let some part types skip some places: what the checks of a line refuse is left out again.

    Every station that then is the first of some type takes time, or parts could run through the line in no time.
    """
    first, last = 0 if line["infeed"] else 1, len(line["route"]) - (0 if line["outfeed"] else 1)
    inner = [name for name in line["route"][first:last] if name in line["stations"] or name in line["buffers"]]
    for carriage in each_carriage(line["loaders"]):
        if "fixed" in carriage["next_call"] and draw(st.integers(0, 3)):
            carriage["next_call"] = "longest_waiting"  # a fixed round could not serve them
    for part in line["parts"].values() if inner else ():
        part["skips"] = draw(st.lists(st.sampled_from(inner), unique=True, max_size=3))
        if "s1" in part["skips"]:
            behind = next((name for name in line["stations"] if name not in part["skips"]), "s1")
            if line["stations"][behind].get("cycle") == seconds(0):
                line["stations"][behind]["cycle"] = seconds(1)
        while part["skips"] and not _is_sound(line):
            part["skips"].pop()


def _is_sound(line: Plain) -> bool:
    try:
        load_line(line)
    except LineError:
        return False
    return True
