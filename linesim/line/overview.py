"""A line in words and tables for people to check: route, stations, loaders, crews and the rough-cut capacity sheet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from linesim.line.calendar import planned_h_per_week
from linesim.line.capacity import Sheet, capacity_sheet
from linesim.line.carriers import carriers
from linesim.line.demand import planned_h_per_year
from linesim.line.hands import hands, people_at_hand
from linesim.line.lead_time import least_lead_time_s
from linesim.line.machines import each_machine, overdone_share
from linesim.line.model import STOP_KINDS, Line, Loader, Station, Stop
from linesim.line.overview_money import money_lines
from linesim.line.overview_people import crews, loaded_by_hand
from linesim.line.overview_words import Typed, counted, shown_s, table, who, wrapped
from linesim.line.part_types import mix
from linesim.line.problems import listed
from linesim.line.size_shares import out_of_tolerance_share
from linesim.line.supply import ceilings
from linesim.line.units import kind_of_interval, with_unit
from linesim.line.ways import places, ways
from linesim.line.week_words import shown_days, shown_time

LOADER_CAUTION = (
    "plan loaders for 75-80 % of this at most (common practice); with breakdowns and several short stations their real "
    "load is much higher: simulate"
)


def summary(line: Line, content: Mapping[str, Any] | None = None) -> str:
    """The whole summary of a line as plain text, lines of at most 120 characters for usual lines.

    content: the map that the line was read from; then times stand there as they were typed.
    """
    typed = Typed(content)
    sections = [
        _head(line),
        _route(line, typed),
        _parts(line, typed),
        _stoppages(line, typed),
        _loaders(line),
        loaded_by_hand(line, typed),
        _week(line, typed),
        crews(line, typed),
        _sheet(capacity_sheet(line), line),
        money_lines(line),
    ]
    return "\n\n".join("\n".join(section) for section in map(list, sections) if section)


def _head(line: Line) -> list[str]:
    stations, machines = len(line.stations), sum(station.machines for station in line.stations.values())
    places_between = sum(buffer.capacity for buffer in line.buffers.values())
    text = f"{counted(stations, 'station')} with {counted(machines, 'machine')}"
    text += f", {counted(places_between, 'place')} between"
    if line.loaders:
        text += f", {counted(len(line.loaders), 'loader')}"
    return [line.name, f"{text}; least lead time {shown_s(least_lead_time_s(line))}"]


def _route(line: Line, typed: Typed) -> list[str]:
    rows = [("place", "kind", "machines", "cycle", "capacity", "dwell", "at", "next place by")]
    onward = {way.start: way.loader or "direct hand-over" for way in ways(line)}
    for name in line.route:
        station, buffer = line.stations.get(name), line.buffers.get(name)
        kind = "station" if station else "buffer" if buffer else "infeed" if name in line.infeed else "outfeed"
        if station and station.inspection:
            kind = "station, inspects"
        at = [
            ", ".join(f"{at:g}" for at in loader.stops[name].at)
            for loader in line.loaders.values()
            if name in loader.stops
        ]
        rows.append(
            (
                name,
                kind,
                str(station.machines) if station else "",
                _cycle(name, station, typed) if station else "",
                str(buffer.capacity) if buffer else "",
                typed.time(buffer.dwell, "buffers", name, "dwell") if buffer and buffer.dwell else "",
                " / ".join(at) + " m" if at else "",
                onward.get(name, "" if name == line.route[-1] else "(left out)" if name not in places(line) else ""),
            )
        )
    return ["Route", *table(rows, right=(2, 4, 5))]


def _parts(line: Line, typed: Typed) -> list[str]:
    """Part types with their shares of what enters, orders, and changeovers."""
    if not line.parts:
        return []
    shares = [f"{100 * share:.3g} % {name}" for name, share in mix(line).items()]
    lines = ["Parts", f"  {listed(shares)}"]
    if line.orders:
        lines.append(f"  orders, repeated: {', '.join(f'{order.size} {order.part}' for order in line.orders)}")
    for part, given in line.parts.items():
        if given.skips:
            past = [way for way in ways(line, part) if way not in ways(line)]
            told = [f"{way.start} to {way.end} by {way.loader or 'direct hand-over'}" for way in past]
            lines.append(f"  {part} skips {listed(given.skips)}" + (f": {', '.join(told)}" if told else ""))
    stations = [(name, line.stations[name]) for name in line.route if name in line.stations]
    for name, owner in [pair for station in stations for pair in _unequal(*station)]:
        if isinstance(owner, Station) and owner.changeover:
            takes = [
                f"{before} to {after} {typed.law(law, 'stations', name, 'changeover', 'takes', before, after)}"
                for before, row in owner.changeover.takes.items()
                for after, law in row.items()
            ]
            crew = f", by {who(owner.changeover)}" if owner.changeover.crew else ""
            lines.append(f"  {name} changes over: {', '.join(takes)}{crew}")
    return lines


def _stoppages(line: Line, typed: Typed) -> list[str]:
    rows = [("owner", "cause", "every", "lasts", "clock", "crew")]
    owners = [(name, line.stations[name]) for name in line.route if name in line.stations]
    for name, owner in [pair for station in owners for pair in _unequal(*station)] + [*carriers(line).items()]:
        path = ("stations" if isinstance(owner, Station) else "loaders", name)
        for cause, breakdown in owner.breakdowns.items():
            at = (*path, "breakdowns", cause)
            clock = breakdown.clock + ("" if breakdown.part == "resume" else f", part {breakdown.part}")
            every, lasts = typed.law(breakdown.mtbf, *at, "mtbf"), typed.law(breakdown.mttr, *at, "mttr")
            rows.append((name, f"breakdown {cause}", every, lasts, clock, who(breakdown)))
        for kind in (*STOP_KINDS, "zone"):
            for cause, stop in getattr(owner, kind, {}).items():
                at = (*path, kind, cause)
                every, clock = _interval(stop, typed, at), "working" if stop.life else stop.clock
                if isinstance(stop.every, int):
                    clock = kind_of_interval(stop.every)
                elif stop.life and stop.life.in_parts:
                    clock = "parts"
                clock += ", holds loader" if getattr(stop, "holds", None) else ""
                lasts = typed.law(stop.takes, *at, "takes")
                rows.append((name, f"{kind.replace('_', ' ')} {cause}", every, lasts, clock, who(stop)))
        if isinstance(owner, Station) and owner.cold_start:
            start = owner.cold_start
            clock = f"then {with_unit('parts', start.scrap)} scrapped" if start.scrap else ""
            every = f"after {typed.time(start.after, *path, 'cold_start', 'after')} off duty"
            lasts = typed.law(start.takes, *path, "cold_start", "takes")
            rows.append((name, "cold start", every, lasts, clock, who(start)))
    causes = ["Breakdowns and stops", *table(rows)] if len(rows) > 1 else []
    return [*causes, *_quality(line, typed)]


def _interval(stop: Stop, typed: Typed, path: tuple[str, ...]) -> str:
    """How often a stop comes, and the life of its tool."""
    told = []
    if stop.every is not None:
        told.append(_every(stop.every, typed, (*path, "every")))
    if stop.life:
        law = stop.life.law
        in_parts = f"{law.mean:g} parts {type(law).__name__.lower()}"
        told.append(f"life {in_parts if stop.life.in_parts else typed.law(law, *path, 'life')}")
    return ", ".join(told)


def _every(every: int | float, typed: Typed, path: tuple[str, ...]) -> str:
    kind = kind_of_interval(every)
    return typed.time(every, *path) if kind == "duration" else with_unit(kind, every)


def _cycle(name: str, station: Station, typed: Typed) -> str:
    """The cycles of a station's machines, each once."""
    at = ("stations", name)
    if feed := station.through_feed:
        pitch, transit = (typed.time(getattr(feed, key), *at, "through_feed", key) for key in ("pitch", "transit"))
        return f"each {pitch}, {transit} inside"
    laws = [typed.law(machine.cycle, *at, "cycle") for machine in each_machine(name, station).values()]
    cycles = ", ".join(dict.fromkeys(laws))
    cycles += f" for {with_unit('parts', station.batch.size)}" if station.batch else ""
    return cycles + (
        f" + strokes of {typed.law(station.strokes.takes, *at, 'strokes', 'takes')}" if station.strokes else ""
    )


def _unequal(name: str, station: Station) -> list[tuple[str, Station | Loader]]:
    """A station as one owner of breakdowns and stops, or each of its machines if they differ."""
    machines: list[tuple[str, Station | Loader]] = list(each_machine(name, station).items())
    return machines if station.unequal else [(name, station)]


def _quality(line: Line, typed: Typed) -> list[str]:
    lines = []
    for name, station in line.stations.items():
        for size, given in station.characteristics.items():
            limits = f"{given.tolerance.low:+g} to {given.tolerance.high:+g} um"
            out = 100 * out_of_tolerance_share(station, size)
            drift = f", drift {given.drift:g} um/part" if given.drift else ""
            lines.append(f"  {name} makes {size}: {limits}, sd {given.spread:g} um{drift}; {out:.3g} % come out")
    for name, station in line.stations.items():
        if station.defects:
            shares = listed(f"{100 * share:g} % {defect}" for defect, share in station.defects.items())
            lines.append(f"  {name} makes defects: {shares}")
    for name, station in line.stations.items():
        if (strokes := station.strokes) and strokes.at_most is not None:
            share = f"{100 * overdone_share(station):g} % of its parts"
            lines.append(f"  {name} rejects {share}: more than {counted(strokes.at_most, 'stroke')} needed")
        if station.overstay is not None:
            longer = typed.time(station.overstay, "stations", name, "overstay")
            lines.append(f"  {name} scraps what is inside {longer} longer than it should be")
        if found := station.inspection:
            fate = (
                f"go back to {found.rework.to} at most {counted(found.rework.at_most, 'time')}"
                if found.rework
                else f"go to {station.chute}"
                if station.chute
                else "are scrapped"
            )
            alarms = f"rejects {100 * found.false_alarms:g} % of the good ones"
            lines.append(f"  {name} finds {100 * found.catches:g} % of the defects, {alarms}; rejects {fate}")
        if samples := station.samples:
            at = ("stations", name, "samples")
            when = [f"every {_every(samples.every, typed, (*at, 'every'))}"] if samples.every is not None else []
            when += [f"first after {stop}" for stop in samples.after]
            if samples.after_pause:
                when.append(f"first after a pause of {typed.time(samples.after_pause, *at, 'after_pause')}")
            lines.append(f"  {name} puts samples into {samples.to}: {', '.join(when)}")
    return lines


def _loaders(line: Line) -> list[str]:
    lines = []
    for name, loader in carriers(line).items():
        rule = loader.next_call.rule.replace("_", " ")
        rule += f" {', '.join(loader.next_call.places)}" if loader.next_call.places else ""
        swaps = f", at most {counted(loader.exchanges_per_tour, 'exchange')} a tour" if loader.grippers == 2 else ""
        lines.append(f"  {name}: {counted(loader.grippers, 'gripper')}{swaps}; next call: {rule}")
        times = [("pick", loader.pick), ("place", loader.place), ("load", loader.load), ("unload", loader.unload)]
        times += [("exchange", loader.exchange)]
        given = ", ".join(f"{key} {time:g} s" for key, time in times if time is not None)
        lines.append(f"    {loader.speed:g} m/s, {loader.acceleration:g} m/s2; {given}")
    return ["Loaders", *lines] if lines else []


def _week(line: Line, typed: Typed) -> list[str]:
    lines = []
    for name, shift in line.shifts.items():
        at = ("shifts", name, "breaks")
        breaks = [
            f"{each} at {shown_time(b.at)} for {typed.time(b.takes, *at, each, 'takes')}"
            for each, b in shift.breaks.items()
        ]
        hours = f"{shown_days(shift.days)}, {shown_time(shift.begin)} to {shown_time(shift.end)}"
        lines.append(f"  {name}: {hours}" + (f"; breaks: {listed(breaks)}" if breaks else ""))
    for name, stop in line.planned_stops.items():
        when = f"{shown_days(stop.days)} at {shown_time(stop.at)}"
        takes = typed.time(stop.takes, "planned_stops", name, "takes")
        lines.append(f"  planned stop {name}: {when} for {takes}")
    for kind in ("stations", "loaders", "crews"):
        for name, owner in getattr(line, kind).items():
            words = [f"only in {listed(owner.shifts)}"] if owner.shifts else []
            words += ["through breaks"] if getattr(owner, "through_breaks", False) else []
            words += ["pauses at the end of its shift"] if getattr(owner, "at_shift_end", "finish") == "pause" else []
            if words:
                lines.append(f"  {name}: {', '.join(words)}")
    return [f"Week: {planned_h_per_week(line):.4g} planned hours; it begins on Monday 0:00", *lines] if lines else []


def _sheet(sheet: Sheet, line: Line) -> Iterator[str]:
    yield "Rough-cut capacity (each station alone; what the line makes is less)"
    if sheet.needed_per_h is not None and line.demand:
        yield (
            f"  demand {line.demand.volume:,.0f} good parts in {planned_h_per_year(line):,.0f} h a year: "
            f"{sheet.needed_per_h:.1f} good parts/h, takt {sheet.takt_s:.1f} s"
        )
    head = (
        "station",
        "machines",
        "cycle s",
        "load s",
        "breakdowns s",
        "stops s",
        "on duty",
        "time up",
        "rejects",
        "good/h",
        "needed/h",
    )
    rows: list[tuple[str, ...]] = [(*head, "interval s")]
    for row in sheet.stages:
        seconds = (row.cycle_s, row.load_s, row.breakdown_s, row.stop_s)
        needed = "" if row.needed_per_h is None else f"{row.needed_per_h:.1f}"
        duty = "" if all(stage.planned_share == 1 for stage in sheet.stages) else f"{100 * row.planned_share:.1f} %"
        shares = (duty, f"{100 * row.up_share:.1f} %", f"{100 * row.lost_share:.2f} %")
        rest = (f"{row.capacity_per_h:.1f}", needed, f"{row.ideal_interval_s:.1f}")
        rows.append((row.station, str(row.machines), *(f"{value:.1f}" for value in seconds), *shares, *rest))
    yield from table(rows, right=range(1, 12))
    passed = any(row.visits < 1 for row in sheet.stages)
    interval = "(cycle + load) / machines" + " x share of the parts that come to it" * passed
    yield f"  pace stage: {sheet.pace_stage} (largest ideal interval: {interval})"
    for work in sheet.loaders:
        share = "" if work.share is None else f", {100 * work.share:.0f} % of its time at the demand"
        parts = f"{work.handling_s:.1f} s handling + {work.travel_s:.1f} s travel a part"
        if work.aside_s:
            parts += f" ({work.aside_s:.1f} s of it for chutes and drawers)"
        if work.loader in hands(line):
            parts = parts.replace("travel", "response")
        yield f"  {work.loader}: {parts} = at most {work.ceiling_per_h:.1f} parts/h{share}"
        yield f"    if {_assumed(line, work.loader)} and nothing waits"
    if line.loaders:
        yield from wrapped(LOADER_CAUTION)
    for ceiling in ceilings(line):
        yield f"  {ceiling.what}: at most {ceiling.per_h:.1f} parts/h ({ceiling.why})"
    bound = sheet.stopped_as_one_per_h
    yield "  if every stop halted the whole line: " + (
        f"{bound:.1f} parts/h" if bound is not None else "not defined for this line"
    )
    for warning in sheet.warnings:
        yield from wrapped(f"warning: {warning}")


def _assumed(line: Line, name: str) -> str:
    """What the sheet takes for granted about a loader's rounds, or those of people."""
    if name in hands(line):
        people = people_at_hand(line, hands(line)[name]) * hands(line)[name].called.people
        crew = hands(line)[name].called.crew[0]
        return f"{crew} ({people:.3g} on duty) exchanges at every machine, has no other calls"
    return (
        "all sweeps are full with a swap at every machine"
        if carriers(line)[name].grippers == 2
        else "it makes a trip for each step"
    )
