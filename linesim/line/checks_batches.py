"""What must hold for stations that hold several parts: those that work on batches, and through-feeds."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from linesim.line.capacity import rework_loops
from linesim.line.carriers import carriers, path_of
from linesim.line.checks import Finding
from linesim.line.machines import each_machine
from linesim.line.model import Batch, Breakdown, Line, Station, ThroughFeed
from linesim.line.model_stations import MOST_TOGETHER
from linesim.line.part_types import ByPart
from linesim.line.problems import KeyPath
from linesim.line.units import with_unit


def check_batches(line: Line) -> Iterator[Finding]:
    """Everything of this file."""
    for name, station in line.stations.items():
        if station.batch:
            yield from batch_can_start(("stations", name, "batch"), station.batch)
            yield from holds_several(name, station, "batch", "parts of a batch")
            yield from no_round_waits_for_a_batch(line, name)
        if station.through_feed:
            yield from feed_moves(name, station, station.through_feed)
            yield from holds_several(name, station, "through_feed", "parts in a through-feed")
            yield from no_round_stops_at_a_feed(line, name)
    yield from enough_parts_may_be_inside(line)
    yield from enough_parts_may_be_in_loops(line)


def batch_can_start(path: KeyPath, batch: Batch) -> Iterator[Finding]:
    if batch.at_least is None:
        return
    key, given = (*path, "at_least"), with_unit("parts", batch.at_least)
    if batch.at_least >= batch.size:
        rule = f"must be below size ({with_unit('parts', batch.size)})"
        yield Finding(key, given, rule, "leave it out to start when full only", None, ((*path, "size"),))
    elif batch.wait_at_most is None:
        rule = "when does it start with fewer than size?"
        yield Finding(key, given, rule, "write wait_at_most too; with 0 s it starts as soon as so many are in")


def feed_moves(name: str, station: Station, feed: ThroughFeed) -> Iterator[Finding]:
    path: KeyPath = ("stations", name)
    if feed.transit < feed.pitch:
        rule = f"must be pitch ({with_unit('duration', feed.pitch)}) or more"
        fix, beside = "where a part leaves before the next comes, write cycle", ((*path, "through_feed", "pitch"),)
        yield Finding((*path, "through_feed", "transit"), with_unit("duration", feed.transit), rule, fix, None, beside)
    if feed.positions > MOST_TOGETHER:
        rule = f"makes room for {feed.positions} parts inside; {MOST_TOGETHER} are the most"
        yield Finding((*path, "through_feed"), None, rule, "raise pitch, or lower transit")
    if station.batch:
        yield Finding((*path, "batch"), None, "a station has either batch or through_feed", "remove one of them")
    for machine, own in station.unequal.items():
        for cause, breakdown in own.breakdowns.items():
            if breakdown != station.breakdowns.get(cause):
                yield from _resumes((*path, "machines", machine, "breakdowns", cause), breakdown)
    for cause, breakdown in station.breakdowns.items():
        yield from _resumes((*path, "breakdowns", cause), breakdown)


def _resumes(path: KeyPath, breakdown: Breakdown) -> Iterator[Finding]:
    if breakdown.part == "restart":
        rule = "parts in a through-feed can't start again, each is somewhere else"
        yield Finding((*path, "part"), "restart", rule, "write resume or scrap")


def holds_several(name: str, station: Station, word: str, parts: str) -> Iterator[Finding]:
    """What a machine can do to one part only, or knows of one part only."""
    path: KeyPath = ("stations", name)
    inspection = station.inspection
    foreign: list[tuple[KeyPath, Any, str]] = []
    if station.blocking == "before_service":
        foreign.append((("blocking",), station.blocking, f"can't reserve the room that all {parts} need"))
    if station.strokes:
        foreign.append((("strokes",), None, f"{parts} can't have numbers of strokes of their own"))
    if station.call_ahead:
        foreign.append((("call_ahead",), with_unit("duration", station.call_ahead), f"{parts} can't call ahead"))
    if station.chute:
        foreign.append((("chute",), station.chute, f"{parts} can't wait for a loader to their chute"))
    if station.samples:
        foreign.append((("samples",), None, f"{parts} can't wait for a loader to their drawer"))
    if station.changeover:
        foreign.append((("changeover",), None, f"{parts} may be of several types"))
    if station.characteristics:
        foreign.append((("characteristics",), None, f"{parts} can't be given sizes of their own"))
    if inspection and inspection.measures:
        foreign.append((("inspection", "measures"), None, f"{parts} can't be measured one by one"))
    if inspection and inspection.rework:
        foreign.append((("inspection", "rework"), None, f"{parts} can't go ways of their own"))
    if any(isinstance(machine.cycle, ByPart) for machine in each_machine(name, station).values()):
        foreign.append((("cycle",), None, f"{parts} may be of several types, and have one cycle together"))
    owners: list[tuple[KeyPath, Station]] = [((), station)]
    owners += [(("machines", machine), own) for machine, own in station.unequal.items()]
    foreign += [
        ((*at, "tool_change", tool, "life"), None, f"which of the {parts} would a breaking tool take with it?")
        for at, own in owners
        for tool, stop in own.tool_change.items()
        if stop.life and not (at and stop == station.tool_change.get(tool))
    ]
    for key, value, rule in foreign:
        fix = f"remove it, or give the station machines side by side in place of {word}"
        yield Finding((*path, *key), value, rule, fix, None, ((*path, word),))


def no_round_waits_for_a_batch(line: Line, name: str) -> Iterator[Finding]:
    """A loader that waits at a place of its round can't bring what a batch between its places still lacks."""
    if name not in line.route:
        return
    for loader, it in carriers(line).items():
        at = [line.route.index(place) for place in it.stops if place in line.route]
        if it.next_call.rule == "fixed" and at and min(at) <= line.route.index(name) <= max(at):
            rule = f"a fixed round may wait for ever for the batch of {name} to be full"
            yield Finding((*path_of(loader), "next_call"), None, rule, "choose another rule")


def no_round_stops_at_a_feed(line: Line, name: str) -> Iterator[Finding]:
    for loader, it in carriers(line).items():
        if it.next_call.rule == "fixed" and name in it.stops:
            rule = f"a fixed round can't serve {name}, which may have parts at its entry and none at its exit"
            yield Finding((*path_of(loader), "next_call"), None, rule, "choose another rule")


def enough_parts_may_be_inside(line: Line) -> Iterator[Finding]:
    """Else every machine could wait for one more part, and none may enter."""
    waiting = sum(it.machines * (it.batch.least - 1) for it in line.stations.values() if it.batch)
    if line.wip_limit is not None and line.wip_limit <= waiting:
        rule = f"as many parts can wait in machines for their batches to be full: {waiting}"
        yield Finding(("wip_limit",), line.wip_limit, rule, f"write {waiting + 1} or more", None, (("stations",),))


def enough_parts_may_be_in_loops(line: Line) -> Iterator[Finding]:
    """Likewise in a rework loop that some types of parts take a short way through: few may be in it then."""
    if not all(place in line.route for it in line.stations.values() for place in _goes_back_to(it)):
        return
    for name, (to, places) in rework_loops(line).items():
        inside = line.route[line.route.index(to) : line.route.index(name) + 1]
        gathering = {place: it.batch for place in inside if (it := line.stations.get(place)) and it.batch}
        waiting = sum(line.stations[place].machines * (batch.least - 1) for place, batch in gathering.items())
        if gathering and waiting >= places - 1:
            rule = (
                f"the rework loop from {to} to {name} lets {places - 1} parts in, and {waiting} can wait in its batches"
            )
            fix = "lower size, or give it wait_at_most"
            yield Finding(("stations", next(iter(gathering)), "batch"), None, rule, fix)


def _goes_back_to(station: Station) -> list[str]:
    return [station.inspection.rework.to] if station.inspection and station.inspection.rework else []
