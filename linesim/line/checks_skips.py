"""What must hold for part types that skip places: a way past them, ends that nobody skips, rework, and fixed rounds."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from linesim.line.at_start import parts_at_start
from linesim.line.carriers import carriers, path_of
from linesim.line.checks import Finding, no_time
from linesim.line.model import Line
from linesim.line.problems import KeyPath, listed
from linesim.line.units import with_unit
from linesim.line.ways import apart, comes_to, places, way, ways


def check_skips(line: Line) -> Iterator[Finding]:
    """Everything of this file."""
    known = {*line.stations, *line.buffers, *line.infeed, *line.outfeed}
    if not set(line.route) <= known:
        return  # that is told already, and ways past such places can't be
    for part, given in line.parts.items():
        path: KeyPath = ("parts", part, "skips")
        ends = list(_ends_are_kept(line, path, given.skips))
        yield from ends
        if given.skips and not ends and set(given.skips) <= set(line.route):
            yield from _ways_lead_past(line, part, path)
            yield from _time_passes(line, part, path)
            yield from _rejects_know_where_to_go(line, part, path)
    yield from _somebody_comes(line)
    yield from _types_at_start_are_known(line)
    yield from _rounds_serve_all(line)


def _ends_are_kept(line: Line, path: KeyPath, skips: tuple[str, ...]) -> Iterator[Finding]:
    """Infeed and outfeed, and what stands in for one that is not there."""
    for end, at, kind in ((line.infeed, 0, "infeed"), (line.outfeed, -1, "outfeed")):
        place = line.route[at] if line.route else ""
        if place in skips:
            rule = f"every part {'begins' if at == 0 else 'ends'} its way at {place}"
            fix = "remove it" if place in end else f"remove it, or give the line an {kind}"
            yield Finding(path, place, rule, fix)


def _ways_lead_past(line: Line, part: str, path: KeyPath) -> Iterator[Finding]:
    """From each place to the next: one loader that serves both, or nothing but direct hand-overs in between."""
    every = places(line)
    for start, end, loaders in ways(line, part):
        between = every[every.index(start) : every.index(end) + 1]
        carrying = [step for step in itertools.pairwise(between) if way(line, *step).loaders]
        if not loaders and len(between) > 2 and carrying:
            (first, second), by = carrying[0], way(line, *carrying[0]).loaders[0]
            rule = (
                f"no way leads {part} from {start} to {end}: no loader serves both, and between them parts do not hand "
                f"over directly ({by} carries from {first} to {second})"
            )
            yield Finding(path, None, rule, f"make {start} and {end} stops of one loader, or skip less")


def _time_passes(line: Line, part: str, path: KeyPath) -> Iterator[Finding]:
    visited = [name for name in places(line, part) if name in line.stations]
    if not visited:
        yield Finding(path, None, f"no station works on {part}", "let it come to one at least")
    elif all(no_time(line, name, part) for name in visited):
        rule = f"every cycle that is left for {part} is 0 s, so it could pass in no time at all"
        yield Finding(path, None, rule, "let it come to a station with a cycle")


def _rejects_know_where_to_go(line: Line, part: str, path: KeyPath) -> Iterator[Finding]:
    for name, station in line.stations.items():
        rework = station.inspection.rework if station.inspection else None
        if rework and comes_to(line, part, name) and not comes_to(line, part, rework.to):
            rule = f"{name} sends rejects back to {rework.to}, which {part} skips"
            yield Finding(path, rework.to, rule, f"let {part} skip {name} too, or let rejects go elsewhere")


def _somebody_comes(line: Line) -> Iterator[Finding]:
    for kind in ("stations", "buffers"):
        for name in getattr(line, kind):
            if name in line.route and not any(comes_to(line, part, name) for part in apart(line)):
                yield Finding((kind, name), None, "every part type skips it", "take it off the route, or skip less")


def _types_at_start_are_known(line: Line) -> Iterator[Finding]:
    """Parts at the start are of the types that come first, whatever buffer they are put in."""
    for name, count in parts_at_start(line).items():
        skipping = [part for part in apart(line) if not comes_to(line, part, name)]
        if count and skipping:
            rule = f"can't hold parts when a run begins: {listed(skipping)} would skip it"
            yield Finding(("buffers", name, "at_start"), with_unit("parts", count), rule, "write at_start: 0 parts")


def _rounds_serve_all(line: Line) -> Iterator[Finding]:
    """A fixed round asks for parts at places in turn; it can't know that the next part does not come there."""
    for name, loader in carriers(line).items():
        if loader.next_call.rule != "fixed":
            continue
        skipped = [place for place in loader.stops if not all(comes_to(line, part, place) for part in apart(line))]
        past = [each for part in apart(line) for each in ways(line, part) if name in each.loaders]
        if skipped or any(each not in ways(line) for each in past):
            what = f"skip {listed(skipped)}" if skipped else "go past some of its places"
            rule = f"a fixed round can't serve part types that {what}"
            yield Finding((*path_of(name), "next_call"), None, rule, "choose another rule")
