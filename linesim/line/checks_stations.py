"""What must hold within a station that does more than work on one part at a time for its cycle."""

from __future__ import annotations

from collections.abc import Iterator

from linesim.line.checks import Finding
from linesim.line.model import OVERSTAY, STOP_KINDS, Life, Line, Station, Stop, Strokes
from linesim.line.problems import KeyPath, listed, nearest
from linesim.line.units import Dressings, with_unit
from linesim.line.ways import serving


def check_stations(line: Line) -> Iterator[Finding]:
    """Everything of this file."""
    for name, station in line.stations.items():
        loader = serving(line, name)
        yield from tools_make_sense(("stations", name), station, loader)
        for machine, own in station.unequal.items():
            if any(getattr(own, kind) != getattr(station, kind) for kind in STOP_KINDS):
                yield from tools_make_sense(("stations", name, "machines", machine), own, loader)
        if station.overstay is not None and OVERSTAY in station.defects:
            rule = f"the name {OVERSTAY} is taken by what stays too long"
            yield Finding(("stations", name, "defects", OVERSTAY), None, rule, "give the defect another name")
        if station.strokes:
            yield from strokes_make_sense(("stations", name, "strokes"), station.strokes, list(station.defects))


def tools_make_sense(path: KeyPath, machine: Station, loader: str | None) -> Iterator[Finding]:
    """Lives, breakages and wheels that wear: of tool changes only, and each with what it needs."""
    for kind in STOP_KINDS:
        for name, stop in getattr(machine, kind).items():
            here = (*path, kind, name)
            yield from _some_parts_are_good(here, stop)
            if stop.holds and stop.overlaps:
                rule = "a loader that this stop holds can't load meanwhile"
                yield Finding((*here, "holds"), stop.holds, rule, "remove it, or overlaps")
            if stop.holds and not loader:
                yield Finding((*here, "holds"), stop.holds, "no loader serves this station", "remove it")
            if kind != "tool_change":
                for key in ("life", "breakage", "worn_by"):
                    if getattr(stop, key) is not None:
                        yield Finding((*here, key), None, "only a tool change has one", "remove it")
                if isinstance(stop.every, Dressings):
                    rule = "only a tool change counts dressings"
                    yield Finding((*here, "every"), with_unit("dressings", stop.every), rule, "write parts, or a time")
                continue
            if stop.life:
                yield from _life_makes_sense(here, stop, stop.life)
            elif stop.breakage:
                yield Finding((*here, "breakage"), None, "a tool without a life never breaks", "give it a life")
            if not (stop.life and isinstance(stop.every, Dressings)):
                yield from _wear_makes_sense(here, stop, list(machine.dressing))


def _some_parts_are_good(path: KeyPath, stop: Stop) -> Iterator[Finding]:
    in_parts = isinstance(stop.every, int) and not isinstance(stop.every, Dressings)
    if stop.every is not None and in_parts and stop.start_up_scrap >= stop.every:
        at, rule = (*path, "start_up_scrap"), "scraps every part from one stop to the next"
        yield Finding(at, with_unit("parts", stop.start_up_scrap), rule, f"keep it below {stop.every} parts")


def _life_makes_sense(path: KeyPath, stop: Stop, life: Life) -> Iterator[Finding]:
    every, unit = (*path, "every"), "parts" if life.in_parts else "a time"
    if stop.age is not None:
        yield Finding((*path, "age"), None, "tools with a life are new at the start", "remove age")
    if stop.every is not None and (isinstance(stop.every, int) != life.in_parts or isinstance(stop.every, Dressings)):
        yield Finding(every, None, f"must be in the unit of life, {unit}", "write both in parts or both in time")
    elif stop.every is not None and not life.in_parts and stop.clock != "working":
        rule = "must be working: a life in time is working time, and every must be too"
        yield Finding((*path, "clock"), stop.clock, rule, "write clock: working")


def _wear_makes_sense(path: KeyPath, stop: Stop, dressings: list[str]) -> Iterator[Finding]:
    key = (*path, "worn_by")
    if not isinstance(stop.every, Dressings):
        if stop.worn_by is not None:
            yield Finding(key, stop.worn_by, "has a meaning only where every is a number of dressings", "remove it")
    elif not dressings:
        rule = "counts dressings, but nothing is dressed here"
        yield Finding((*path, "every"), with_unit("dressings", stop.every), rule, "give the station its dressing")
    elif stop.worn_by is None and len(dressings) > 1:
        yield Finding(key, None, "is missing", f"which dressing counts: {listed(dressings, 'or')}?")
    elif stop.worn_by is not None and stop.worn_by not in dressings:
        rule, near = "is no dressing of this station", nearest(stop.worn_by, dressings)
        yield Finding(key, stop.worn_by, rule, "" if near else f"known: {listed(dressings)}", near)


def strokes_make_sense(path: KeyPath, strokes: Strokes, defects: list[str]) -> Iterator[Finding]:
    total = sum(strokes.number.values())
    if abs(total - 1) > 1e-9:
        number = (*path, "number")
        rule = "must add up to 100 %: every part needs some number of strokes"
        yield Finding(number, with_unit("share", total), rule, "write {0: 30 %, 1: 40 %, 2: 30 %}", None, (number,))
    if strokes.defect in defects:
        rule = f"the name {strokes.defect} is taken by a defect of this station"
        yield Finding((*path, "defect"), strokes.defect, rule, "give it another name")
