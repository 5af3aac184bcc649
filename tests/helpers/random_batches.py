"""Random stations that work on several parts together, for random lines."""

from __future__ import annotations

from hypothesis import strategies as st

from tests.helpers.lines import Plain, seconds
from tests.helpers.random_loaders import each_carriage
from tests.helpers.random_stations import Grid


@st.composite
def batches(draw: st.DrawFn, line: Plain, grid: Grid) -> None:
    """Let some stations gather parts; what can't go with that is taken away from them, or they are left as they are."""
    for name, station in line["stations"].items():
        if draw(st.integers(0, 4)) < 4 or not _may_gather(line, name):
            continue
        _take_away(station)
        if draw(st.integers(0, 1)):
            pitch = draw(grid.duration(1, 6))
            station["through_feed"] = {"pitch": seconds(pitch), "transit": seconds(pitch + draw(grid.duration(0, 15)))}
            del station["cycle"]
            named = station["machines"].values() if isinstance(station.get("machines"), dict) else []
            for own in named:
                own.pop("cycle", None)
            for cause in [cause for own in (station, *named) for cause in own.get("breakdowns", {}).values() if cause]:
                cause["part"] = "scrap" if cause.get("part") == "scrap" else "resume"
            continue
        station["batch"] = {"size": f"{draw(st.integers(2, 5))} parts"}
        if draw(st.booleans()):
            station["batch"]["wait_at_most"] = seconds(draw(grid.duration(0, 20)))
            size = int(station["batch"]["size"].split()[0])
            if draw(st.booleans()):
                station["batch"]["at_least"] = f"{draw(st.integers(1, size - 1))} parts"


def _take_away(station: Plain) -> None:
    """What can't be together with several parts in a machine."""
    for key in ("strokes", "call_ahead", "changeover", "blocking"):
        station.pop(key, None)
    if any("life" in stop for stop in station.get("tool_change", {}).values()):
        del station["tool_change"]


def _may_gather(line: Plain, name: str) -> bool:
    station, inspection = line["stations"][name], line["stations"][name].get("inspection", {})
    by_type = set(station["cycle"]) & set(line.get("parts", {})) if isinstance(station["cycle"], dict) else set()
    if (
        "chute" in station
        or "samples" in station
        or "characteristics" in station
        or "rework" in inspection
        or inspection.get("measures")
        or by_type
    ):
        return False
    for carriage in each_carriage(line["loaders"]):
        at = [line["route"].index(place) for place in carriage["stops"] if place in line["route"]]
        if "fixed" in carriage["next_call"] and at and min(at) <= line["route"].index(name) <= max(at):
            return False
    return True


def may_wait(line: Plain) -> int:
    """How many parts can stand in machines that wait for more."""
    waiting = 0
    for station in line["stations"].values():
        if batch := station.get("batch"):
            machines = station.get("machines", 1)
            least = batch.get("at_least", "1 parts") if "wait_at_most" in batch else batch["size"]
            waiting += (machines if isinstance(machines, int) else len(machines)) * (int(least.split()[0]) - 1)
    return waiting
