"""The line's story, told again from the rows of a trace alone: who was where, how full, in which state, since when.

It fails at the first row that can't be true, for example a part that leaves a place where it isn't.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field

import numpy as np

from linesim.engine.contract.ledger import Fate
from linesim.engine.contract.trace import Trace, What
from linesim.line.carriers import carriers, owner_name
from linesim.line.machines import places_inside
from linesim.line.model import Line

Changes = list[tuple[int, int]]  # (time_us, new value) of a quantity, in order; it is 0 before the first


@dataclass
class Departure:
    """A part that left: when, when it had entered, how, how often it had been sent back, and where it became scrap."""

    time_us: int
    part: int
    entered_us: int
    fate: Fate
    reworks: int
    station: str = ""


@dataclass
class Story:
    """What a replayed trace says. Owners go by their index in `Trace.owners`."""

    inside: Changes = field(default_factory=list)
    levels: dict[int, Changes] = field(default_factory=lambda: defaultdict(list))
    states: dict[int, Changes] = field(default_factory=lambda: defaultdict(list))
    entered_us: dict[int, int] = field(default_factory=dict)
    departures: list[Departure] = field(default_factory=list)
    where: dict[int, int] = field(default_factory=dict)  # part -> place or carriage
    arrived_us: dict[int, int] = field(default_factory=dict)  # part -> time it came to where it is
    contents: dict[int, list[int]] = field(default_factory=lambda: defaultdict(list))
    reworks: dict[int, int] = field(default_factory=lambda: defaultdict(int))
    aside: dict[int, int] = field(default_factory=dict)  # part that waits for its way aside, or is on it -> where to
    lost_at: dict[int, str] = field(default_factory=dict)  # part that was set aside -> station


def replay(trace: Trace, line: Line) -> Story:
    """Walk through the rows in order. Raises AssertionError, naming the row, at the first impossible one."""
    story = Story()
    room = _room(trace, line)
    on_the_way = -1  # a part between the two rows of a direct hand-over
    going_back: set[int] = set()  # rejects on their way to rework
    now_us = 0
    for number, row in enumerate(trace.rows.tolist()):
        time_us, what, owner, part, value = row
        where = f"row {number} ({time_us} us, {What(what).name}, {_name(trace, owner)}, part {part}, value {value})"
        assert time_us >= now_us, f"{where}: time runs backwards"
        now_us = time_us
        if what == What.STATE:
            story.states[owner].append((time_us, value))
        elif what == What.LEAVE:
            assert on_the_way == -1, f"{where}: part {on_the_way} is still between two places"
            _leave(story, trace, line, row, where)
            ends = trace.owners[owner].group == line.route[-1]  # a route without outfeed
            if ends and part not in going_back and part not in story.aside:
                _depart(story, part, time_us, Fate.GOOD)
            elif value == -1:
                on_the_way = part
        elif what == What.ARRIVE:
            assert on_the_way in (-1, part), f"{where}: part {on_the_way} is still between two places"
            assert (value == -1) == (on_the_way == part), f"{where}: arrives otherwise than it left"
            _arrive(story, trace, row, room[owner], where)
            going_back.discard(part)
            on_the_way = -1
        elif what == What.SET_ASIDE:
            assert story.where.get(part) == owner, f"{where}: set aside where it isn't"
            station = line.stations[trace.owners[owner].group]
            to = station.samples.to if station.samples and trace.owners[value].kind == "drawer" else station.chute
            assert trace.owners[value].name == to, f"{where}: no chute or drawer of it"
            assert part not in story.aside, f"{where}: set aside twice"
            story.aside[part] = value
            story.lost_at[part] = trace.owners[owner].group
        elif what == What.SCRAP:
            assert story.where.get(part) == owner, f"{where}: scrapped where it isn't"
            _check_chute(story, trace, line, owner, part, where)
            _take_away(story, trace, owner, part, time_us)
            where_lost = story.lost_at.get(part, trace.owners[owner].group)
            _depart(story, part, time_us, Fate.SCRAPPED, where_lost)
        elif what == What.REWORK:
            story.reworks[part] += 1
            going_back.add(part)
    assert on_the_way == -1, f"part {on_the_way} left without arriving"
    return story


def _check_chute(story: Story, trace: Trace, line: Line, owner: int, part: int, where: str) -> None:
    """Scrap of a station with a chute leaves there only, and the chute gets nothing else."""
    station = line.stations.get(trace.owners[owner].group)
    if station:
        assert station.chute is None, f"{where}: scrapped in its machine, which has a chute"
    assert story.aside.pop(part, owner) == owner, f"{where}: set aside for another place"


def time_at(changes: Changes, from_us: int, to_us: int, values: int) -> np.ndarray:
    """Time for which a stepwise quantity had each value 0..values-1 within [from_us, to_us), in microseconds."""
    spent = np.zeros(values, dtype=np.int64)
    before_us, value = 0, 0
    for time_us, new in [*changes, (to_us, -1)]:
        spent[value] += max(0, min(time_us, to_us) - max(before_us, from_us))
        before_us, value = time_us, new
    return spent


def value_before(changes: Changes, time_us: int) -> int:
    """Value just before anything happens at this time."""
    return next((value for at_us, value in reversed(changes) if at_us < time_us), 0)


def _leave(story: Story, trace: Trace, line: Line, row: list[int], where: str) -> None:
    time_us, _, owner, part, carriage = row
    if trace.owners[owner].kind == "infeed":
        assert part not in story.entered_us, f"{where}: enters a second time"
        story.entered_us[part] = time_us
        story.inside.append((time_us, _last(story.inside) + 1))
    else:
        assert story.where.get(part) == owner, f"{where}: leaves a place where it isn't"
        if trace.owners[owner].kind == "buffer":
            assert story.contents[owner][0] == part, f"{where}: overtakes part {story.contents[owner][0]}"
            stayed_s = (time_us - story.arrived_us[part]) / 1e6
            dwell_s = line.buffers[trace.owners[owner].name].dwell
            assert stayed_s >= dwell_s - 1e-6, f"{where}: stayed {stayed_s} s of {dwell_s} s"
        _take_away(story, trace, owner, part, time_us)
    if carriage != -1:
        assert trace.owners[carriage].kind == "carriage", f"{where}: taken by something that is no carriage"
        grippers = _grippers(line, trace.owners[carriage].name)
        story.contents[carriage].append(part)
        assert len(story.contents[carriage]) <= grippers, f"{where}: more parts than grippers"
        story.where[part] = carriage


def _arrive(story: Story, trace: Trace, row: list[int], room: int, where: str) -> None:
    time_us, _, owner, part, carriage = row
    if carriage != -1:
        assert story.where.get(part) == carriage, f"{where}: is not in that carriage"
        story.contents[carriage].remove(part)
        del story.where[part]
    else:
        assert part not in story.where, f"{where}: is in two places"
    if trace.owners[owner].kind == "outfeed":
        _depart(story, part, time_us, Fate.GOOD)
        return
    assert story.aside.get(part, owner) == owner, f"{where}: was set aside for another place"
    if trace.owners[owner].kind == "drawer":
        del story.aside[part]
        _depart(story, part, time_us, Fate.SAMPLED, story.lost_at[part])
        return
    story.where[part], story.arrived_us[part] = owner, time_us
    story.contents[owner].append(part)
    assert len(story.contents[owner]) <= room, f"{where}: no room, {room} is the limit"
    if trace.owners[owner].kind == "buffer":
        story.levels[owner].append((time_us, len(story.contents[owner])))


def _take_away(story: Story, trace: Trace, owner: int, part: int, time_us: int) -> None:
    story.contents[owner].remove(part)
    del story.where[part]
    if trace.owners[owner].kind == "buffer":
        story.levels[owner].append((time_us, len(story.contents[owner])))


def _depart(story: Story, part: int, time_us: int, fate: Fate, station: str = "") -> None:
    story.inside.append((time_us, _last(story.inside) - 1))
    story.departures.append(Departure(time_us, part, story.entered_us[part], fate, story.reworks[part], station))


def _last(changes: Changes) -> int:
    return changes[-1][1] if changes else 0


def _name(trace: Trace, owner: int) -> str:
    return trace.owners[owner].name if owner >= 0 else "-"


def _grippers(line: Line, carriage: str) -> int:
    """Grippers of a carriage; people hold two parts as they exchange them."""
    return next((loader.grippers for name, loader in carriers(line).items() if owner_name(name) == carriage), 2)


def _room(trace: Trace, line: Line) -> list[int]:
    """Parts that an owner can hold: a machine one or more, a chute what just fell; infeed, outfeed, crews none."""
    places = {"machine": lambda owner: places_inside(line.stations[owner.group])}
    places["chute"] = lambda owner: 1
    places["buffer"] = lambda owner: line.buffers[owner.name].capacity
    return [places[owner.kind](owner) if owner.kind in places else 0 for owner in trace.owners]
