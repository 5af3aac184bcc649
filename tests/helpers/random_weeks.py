"""Random weeks for random lines: shifts, breaks and planned stops in the first minutes of a Monday, and for whom."""

from __future__ import annotations

from hypothesis import strategies as st

from tests.helpers.lines import Plain, seconds, shift
from tests.helpers.random_stations import called


@st.composite
def week(draw: st.DrawFn) -> Plain:
    """`shifts` and `planned_stops`; now and then none of either. Some planned time is always left before 0:02."""
    kind = draw(st.integers(0, 5))
    found: Plain = {}
    if kind >= 3:
        edges = sorted(draw(st.lists(st.integers(2, 6), min_size=1, max_size=3, unique=True)))
        begin = draw(st.integers(0, 1))
        days = st.sampled_from(["mon", "sun to mon", "mon to sun"])
        shifts = {"early": shift(_time(begin), _time(edges[0]), draw(days), **draw(_breaks(begin, edges[0])))}
        if len(edges) == 3:
            shifts["late"] = shift(_time(edges[1]), _time(edges[2]), draw(days), **draw(_breaks(edges[1], edges[2])))
        found["shifts"] = shifts
    if kind in (2, 5):
        stop = {"days": "mon", "at": _time(draw(st.integers(2, 3))), "takes": seconds(draw(st.integers(1, 70)))}
        found["planned_stops"] = {"service": stop}
    return found


@st.composite
def keeps_to(draw: st.DrawFn, given: Plain, kind: str, people: tuple[str, ...] = ()) -> Plain:
    """Keys of a station, loader or crew that say how it keeps to a week."""
    keys: Plain = {}
    if given.get("shifts") and draw(st.integers(0, 2)) == 2:
        keys["shifts"] = draw(st.lists(st.sampled_from(sorted(given["shifts"])), min_size=1, unique=True))
    if given.get("shifts") and kind == "crew" and not keys and draw(st.booleans()):
        names = draw(st.lists(st.sampled_from(sorted(given["shifts"])), min_size=1, unique=True))
        keys["people"] = {name: draw(st.integers(0, 2)) for name in names}
        keys["people"][names[0]] = max(1, keys["people"][names[0]])
    if given and kind != "crew" and draw(st.integers(0, 2)) == 2:
        keys["through_breaks"] = True
    if given and kind == "station" and draw(st.booleans()):
        keys["at_shift_end"] = "pause"
    if given and kind == "station" and draw(st.integers(0, 2)) == 2:
        start: Plain = {"after": seconds(draw(st.integers(1, 150))), "takes": seconds(draw(st.integers(0, 12)))}
        start |= draw(called(people))
        if draw(st.booleans()):
            start["scrap"] = f"{draw(st.integers(0, 3))} parts"
        keys["cold_start"] = start
    return keys


@st.composite
def _breaks(draw: st.DrawFn, begin: int, end: int) -> dict[str, tuple[str, str]]:
    if draw(st.booleans()):
        return {}
    at = draw(st.integers(begin, end - 1))
    return {"rest": (_time(at), seconds(draw(st.integers(1, 50))))}


def _time(minutes: int) -> str:
    return f"0:{minutes:02d}"
