"""The least time a part can take from the infeed to the outfeed, for the flow factor."""

from __future__ import annotations

from linesim.line.loader_work import carried
from linesim.line.machines import each_machine, time_inside_s
from linesim.line.model import Line, Loader
from linesim.line.ways import Way, carriers_and_hands, handling, places, shares_apart, travel_s


def least_lead_time_s(line: Line) -> float:
    """Least time from leaving the infeed to reaching the outfeed [s]: a part alone, loaders and people at hand.

    Mean cycles, dwells, loaded moves and handling, by the machines that lie nearest to each other; buffers without
    dwell are passed over. The pick at the infeed is not in it: the part leaves when the pick ends. Where some types
    skip places, the mean of what each type needs.
    """
    return sum(share * _least_s(line, part) for part, share in shares_apart(line).items())


def _least_s(line: Line, part: str | None) -> float:
    by_loader = {way.start: way for name in carriers_and_hands(line) for way in carried(line, name, part)}
    names = places(line, part)
    here, least_s = names[0], dict(enumerate(_rests_s(line, names[0], part)))  # machine -> least time until done there
    while here != names[-1]:
        way = by_loader.get(here) or Way(here, names[names.index(here) + 1], ())
        least_s = {
            machine: min(done_s + _carry_s(line, way, start, machine) for start, done_s in least_s.items()) + rest_s
            for machine, rest_s in enumerate(_rests_s(line, way.end, part))
        }
        here = way.end
    return min(least_s.values())


def _rests_s(line: Line, place: str, part: str | None) -> list[float]:
    """Least time at a place, at each of its machines if it is a station [s]."""
    if place in line.stations:
        machines = each_machine(place, line.stations[place]).values()
        return [time_inside_s(machine, part) for machine in machines]
    return [line.buffers[place].dwell if place in line.buffers else 0.0]


def _carry_s(line: Line, way: Way, from_machine: int, to_machine: int) -> float:
    """Time from done at one machine to being in the next [s]; 0 for a direct hand-over."""
    if way.loader is None:
        return 0.0
    loader = carriers_and_hands(line)[way.loader]
    start_m = loader.stops[way.start].at[from_machine]
    end_m = loader.stops[way.end].at[to_machine]
    move_s = travel_s(abs(end_m - start_m), loader.speed, loader.acceleration)
    return _leave_s(line, loader, way.start) + move_s + _arrive_s(line, loader, way.end)


def _leave_s(line: Line, loader: Loader, place: str) -> float:
    times = handling(loader, loader.stops[place])
    if place in line.infeed:
        return 0.0
    return _shorter(loader, times.unload_s, times.exchange_s) if place in line.stations else times.pick_s


def _arrive_s(line: Line, loader: Loader, place: str) -> float:
    times = handling(loader, loader.stops[place])
    return _shorter(loader, times.load_s, times.exchange_s) if place in line.stations else times.place_s


def _shorter(loader: Loader, alone_s: float, exchange_s: float) -> float:
    """Two grippers may swap instead, where that is shorter."""
    return min(alone_s, exchange_s) if loader.grippers == 2 else alone_s
