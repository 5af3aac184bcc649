"""What a loader does for each part that passes: handling and travel, as in a hand-drawn loader time diagram."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from linesim.line.aside import drawers_of, ways_aside
from linesim.line.called import response_s
from linesim.line.hands import Hands, hands, people_at_hand
from linesim.line.machines import each_machine
from linesim.line.model import Line, Loader, Stop
from linesim.line.scrap_shares import drawn_share, scrapped_share
from linesim.line.stop_rates import stop_rates
from linesim.line.ways import (
    Way,
    carriers_and_hands,
    comes_to,
    handling,
    loaders_at,
    places,
    serving,
    share_at,
    shares_apart,
    travel_s,
    ways,
)


@dataclass(frozen=True)
class LoaderWork:
    """Static work of a loader for one part [s], its ceiling [parts/h], and the share of time that demand asks of it.

    open_share: of its time, for which people are in one of its zones, or stops by time hold it. Of handling and travel,
    aside_s is for trips to chutes and drawers.
    Of people who load by hand travel is their response; people: how many tours they can make at a time, 1 for a loader.
    """

    loader: str
    handling_s: float
    travel_s: float
    share: float | None
    open_share: float = 0.0
    aside_s: float = 0.0
    people: float = 1.0

    @property
    def work_s(self) -> float:
        return self.handling_s + self.travel_s

    @property
    def ceiling_per_h(self) -> float:
        return self.people * 3600 * (1 - self.open_share) / self.work_s if self.work_s else float("inf")


def loader_works(line: Line, starts_per_h: Mapping[str, float]) -> list[LoaderWork]:
    """A row for each carriage, then for hands.

    starts_per_h: parts that demand sends into each station, empty without a demand.

    Assumed: every part goes the whole way in steady order. Parts pass over buffers without dwell that the loader serves
    on both sides, and rest in those with dwell. With two grippers the loader sweeps from its first stop to its last,
    exchanging at every machine, and comes back; with one it makes a trip for each step, the most downstream first.
    Several machines of a station count by their mean position. Open zones take their share of the time. Stops by
    count that hold it add to its handling. A part that goes to a chute or drawer adds the way there and back and its
    placing to that. Trips for rework, breakdowns, and waiting for another carriage of the rail are not in it.
    Where some part types skip places, a part's work is the mean over the mix, as if each type had rounds of its own.
    People come once for each machine and exchange there, the preferred crew, which has no other calls.
    """
    return [_work(line, name, loader, starts_per_h) for name, loader in carriers_and_hands(line).items()]


def load_s(line: Line, station: str) -> float:
    """Time of loader or people at a machine for each part [s], the machine waiting.

    One loader on both sides: exchange with two grippers, else (and at a through-feed, whose entry is not its exit)
    unload and load; a loader on one side only: that part of it; direct hand-over: 0. Travel between unload and load
    (one gripper) is not in it.
    """
    shares = {part: share for part, share in shares_apart(line).items() if comes_to(line, part, station)}
    total = sum(shares.values())
    return sum(share * _load_s(line, station, part) for part, share in shares.items()) / total if total else 0.0


def _load_s(line: Line, station: str, part: str | None) -> float:
    before, after = loaders_at(line, station, part)
    known = carriers_and_hands(line)
    swaps = before == after and not line.stations[station].through_feed
    if before and swaps and known[before].grippers == 2:
        return handling(known[before], known[before].stops[station]).exchange_s
    loads = handling(known[before], known[before].stops[station]).load_s if before else 0.0
    unloads = handling(known[after], known[after].stops[station]).unload_s if after else 0.0
    return loads + unloads


def carried(line: Line, name: str, part: str | None = None) -> list[Way]:
    """Steps that a loader makes with a part, passing over buffers without dwell that it serves on both sides."""
    steps = [way for way in ways(line, part) if way.loader == name]
    joined: list[Way] = []
    for way in steps:
        passes = way.start in line.buffers and line.buffers[way.start].dwell == 0
        if joined and joined[-1].end == way.start and passes:
            joined[-1] = Way(joined[-1].start, way.end, way.loaders)
        else:
            joined.append(way)
    return joined


def _work(line: Line, name: str, loader: Loader, starts_per_h: Mapping[str, float]) -> LoaderWork:
    handling_s = travelling_s = 0.0
    for part, of_mix in shares_apart(line).items():
        own_handling_s, own_travel_s = _round(line, name, loader, part)
        handling_s += of_mix * own_handling_s
        travelling_s += of_mix * own_travel_s
    placing_s, way_s = _aside_s(line, name, loader)
    handling_s += placing_s + sum(stop.takes.mean * per_part for stop, _, per_part in _holding(line, name))
    travelling_s += way_s
    starts = _starts_per_h(line, loader, starts_per_h)
    open_share, people = _open_share(line, name, loader), 1.0
    if name in hands(line):
        travelling_s, people = _way_s(line, hands(line)[name]), people_at_hand(line, hands(line)[name])
    share = None if starts is None else starts * (handling_s + travelling_s) / 3600 / (1 - open_share) / people
    return LoaderWork(name, handling_s, travelling_s, share, open_share, placing_s + way_s, people)


def _round(line: Line, name: str, loader: Loader, part: str | None) -> tuple[float, float]:
    """Handling and travel of a loader for one part of a type [s]."""
    steps = carried(line, name, part)
    handling_s = sum(_leave_s(line, loader, way.start) + _arrive_s(line, loader, way.end) for way in steps)
    if loader.grippers == 2:
        swapped = {way.end for way in steps} & {way.start for way in steps} & line.stations.keys()
        for place in (place for place in swapped if not line.stations[place].through_feed):
            times = handling(loader, loader.stops[place])
            handling_s += times.exchange_s - times.load_s - times.unload_s
        served = {place for way in steps for place in (way.start, way.end)}
        round_trip = [place for place in places(line, part) if place in served]
    else:
        round_trip = [place for way in reversed(steps) for place in (way.start, way.end)]
    return handling_s, _round_s(loader, round_trip)


def _way_s(line: Line, each: Hands) -> float:
    """Mean time a part until people are there [s], once for each station that it comes to."""
    return sum(share_at(line, name) for name in each.stations) * response_s(line, each.called)


def _aside_s(line: Line, name: str, loader: Loader) -> tuple[float, float]:
    """Placing, and the way there and back, of the parts that go aside, for each part that passes [s]."""
    placing_s = way_s = 0.0
    for station, place, carrier in ways_aside(line):
        if carrier == name:
            share = _share_aside(line, station, place)
            if place in line.drawers:
                placing_s += share * _emptying_s(line, place)
            placing_s += share * handling(loader, loader.stops[place]).place_s
            way_s += share * _round_s(loader, [station, place])
    return placing_s, way_s


def _share_aside(line: Line, station: str, place: str) -> float:
    """Share of the parts of the mix that go from a station to its chute or drawer."""
    types = {part: share for part, share in shares_apart(line).items() if comes_to(line, part, station)}
    if place in line.drawers:
        kept = sum(of_mix * (1 - scrapped_share(line, station, part)) for part, of_mix in types.items())
        return kept * drawn_share(line, station)
    return sum(of_mix * scrapped_share(line, station, part) for part, of_mix in types.items())


def _emptying_s(line: Line, drawer: str) -> float:
    """How long a loader stands for each sample in a drawer that is emptied at a level [s]; by time: see the share."""
    job = line.drawers[drawer].emptied
    return job.takes.mean / job.at if job.at else 0.0


def _open_share(line: Line, name: str, loader: Loader) -> float:
    """Share of time that people are in its zones: takes / (every + response + takes) for each, one after the other.

    Common practice, the availability of what stops by time; the end of a leg or handling, which they wait for, is left
    out.
    """
    free = 1.0
    for zone in loader.zone.values():
        free *= 1 - zone.takes.mean / (zone.every + response_s(line, zone) + zone.takes.mean)
    for job in (line.drawers[drawer].emptied for drawer in drawers_of(line, name)):
        if job.every is not None:
            free *= 1 - job.takes.mean / (job.every + response_s(line, job) + job.takes.mean)
    for stop, per_s, _ in _holding(line, name):
        free *= 1 - per_s * stop.takes.mean / (1 + per_s * (response_s(line, stop) + stop.takes.mean))
    return 1 - free


def _holding(line: Line, name: str) -> Iterator[tuple[Stop, float, float]]:
    """Stops of machines that hold this loader: each with how often it comes, a second and a part of its station."""
    for station, given in line.stations.items():
        if serving(line, station) == name:
            for machine in each_machine(station, given).values():
                for rate in stop_rates(machine):
                    if rate.stop.holds:
                        yield rate.stop, rate.per_s, rate.per_part / given.machines


def _round_s(loader: Loader, stops: Sequence[str]) -> float:
    """Travel along these stops and back to the first [s]."""
    positions = [_mean(loader.stops[place].at) for place in stops]
    legs = zip(positions, positions[1:] + positions[:1], strict=True)
    return sum(travel_s(abs(end - start), loader.speed, loader.acceleration) for start, end in legs)


def _starts_per_h(line: Line, loader: Loader, starts_per_h: Mapping[str, float]) -> float | None:
    """Parts an hour that enter the first station at or after its first stop; of the last one, where none follows.

    Where some types skip that station, so many more as if they did not.
    """
    first = next((at for at, place in enumerate(line.route) if place in loader.stops), 0)
    visited = {place: share for place in starts_per_h if (share := share_at(line, place))}
    stations = [place for place in line.route[first:] if place in visited] or list(visited)[-1:]
    return starts_per_h[stations[0]] / visited[stations[0]] if stations else None


def _leave_s(line: Line, loader: Loader, place: str) -> float:
    times = handling(loader, loader.stops[place])
    return times.unload_s if place in line.stations else times.pick_s


def _arrive_s(line: Line, loader: Loader, place: str) -> float:
    times = handling(loader, loader.stops[place])
    return times.load_s if place in line.stations else times.place_s


def _mean(positions: Sequence[float]) -> float:
    return sum(positions) / len(positions)
