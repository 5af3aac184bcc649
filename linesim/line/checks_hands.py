"""What must hold where people load machines by hand: somebody is called, it is clear who carries, and there is need."""

from __future__ import annotations

from collections.abc import Iterator

from linesim.line.checks import NAMED, Finding
from linesim.line.hands import hands
from linesim.line.model import ByHand, Line
from linesim.line.problems import KeyPath, listed
from linesim.line.ways import Way, all_ways, carriers_and_hands


def check_hands(line: Line) -> Iterator[Finding]:
    """Everything of this file."""
    for name, station in line.stations.items():
        if station.by_hand and name in line.route:
            yield from _people_are_called(("stations", name, "by_hand"), station.by_hand)
            yield from _there_is_need(line, name)
            yield from _nobody_is_called_ahead(line, name)
    for step in all_ways(line):
        yield from _it_is_clear_who_carries(line, step)
    for name in hands(line):
        owner = next((kind for kind in NAMED if name in getattr(line, kind)), None)
        if owner:
            rule = "is the name that the people who load by hand have in the results"
            yield Finding((owner, name), None, rule, "choose another name")


def _people_are_called(path: KeyPath, by_hand: ByHand) -> Iterator[Finding]:
    if not by_hand.crew:
        yield Finding((*path, "crew"), None, "is missing: who loads it?", "write crew: operator")


def _there_is_need(line: Line, name: str) -> Iterator[Finding]:
    if any(name in loader.stops for hand, loader in carriers_and_hands(line).items() if hand in hands(line)):
        return
    loaders = [loader for step in all_ways(line) for loader in step.loaders if name in (step.start, step.end)]
    rule = f"{listed(dict.fromkeys(loaders))} loads and unloads {name}" if loaders else f"{name} has no neighbours"
    yield Finding(("stations", name, "by_hand"), None, rule, f"remove it, or the loader's stop {name}")


def _nobody_is_called_ahead(line: Line, name: str) -> Iterator[Finding]:
    onward = {step.loader for step in all_ways(line) if step.start == name}
    if line.stations[name].call_ahead and onward & hands(line).keys():
        rule = f"people take parts away from {name}, and come once the part is ready"
        yield Finding(("stations", name, "call_ahead"), f"{line.stations[name].call_ahead:g} s", rule, "remove it")


def _it_is_clear_who_carries(line: Line, step: Way) -> Iterator[Finding]:
    if len(step.loaders) < 2 or step.loaders[0] not in hands(line):
        return
    path = ("stations", step.end, "by_hand", "crew")
    rule = f"{step.start} and {step.end} are neighbours, and other people load each by hand: who carries?"
    fix = "let both name the same crew, people and priority, or put a buffer between"
    yield Finding(path, None, rule, fix, None, (path, ("stations", step.start, "by_hand", "crew")))
