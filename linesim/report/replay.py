"""What the replay on a page needs: a window of a trace, how everything stood as it began, and how it is to look."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field

import numpy as np

from linesim.engine.contract.ledger import HOUR_US, CarriageState, MachineState
from linesim.engine.contract.trace import Trace, What
from linesim.line.carriers import carrier_of, carriers
from linesim.line.model import Line
from linesim.report.draw_plan import plan_drawing, scale_words
from linesim.report.motion import Stretch, positions, stretches
from linesim.report.parts import Replay
from linesim.report.plan import plan_of
from linesim.report.templating import as_json
from linesim.results import Results
from linesim.results.labels import label

MOST_ROWS = 45_000  # of a window, so that the page stays small and quick
HOURS = 8.0
TOLD = (What.STATE, What.LEAVE, What.ARRIVE, What.SCRAP, What.REWORK, What.FAIL)


@dataclass
class _Standing:
    """How everything stands: owner -> state, owner -> parts there; parts inside; parts on their way back."""

    states: dict[int, int] = field(default_factory=dict)
    contents: dict[int, list[int]] = field(default_factory=lambda: defaultdict(list))
    inside: int = 0
    going_back: set[int] = field(default_factory=set)


def window_of(trace: Trace, from_us: int, to_us: int) -> tuple[int, int]:
    """The window, cut to whole minutes if it holds more rows than a page should."""
    times = trace.rows[np.isin(trace.rows[:, 1], TOLD), 0]
    first = int(np.searchsorted(times, from_us))
    if first + MOST_ROWS < len(times):
        minute = HOUR_US // 60
        to_us = min(to_us, max(from_us + minute, int(times[first + MOST_ROWS]) // minute * minute))
    return from_us, to_us


def is_of(trace: Trace, line: Line, results: Results, replication: int) -> bool:
    """Whether the good parts of a trace left in the same output windows as those of the stored replication."""
    windows = results.windows[results.windows["replication"] == replication]
    ends_us = np.round(windows["to_h"].to_numpy() * HOUR_US).astype(np.int64)
    whole = ends_us <= (trace.rows[-1, 0] if len(trace.rows) else 0)
    made = np.searchsorted(_good_us(trace, line), ends_us[whole])
    return bool((made == windows["good_parts"].cumsum().to_numpy()[whole]).all())


def _good_us(trace: Trace, line: Line) -> np.ndarray:
    """When each good part left [us], in order."""
    outfeed = [number for number, owner in enumerate(trace.owners) if owner.kind == "outfeed" and owner.name]
    time_us, what, owner, part, value = trace.rows.T
    if outfeed:
        return time_us[(what == What.ARRIVE) & np.isin(owner, outfeed)]
    last = [number for number, each in enumerate(trace.owners) if each.group == line.route[-1]]
    arrived = set(zip(time_us[what == What.ARRIVE].tolist(), part[what == What.ARRIVE].tolist(), strict=True))
    left = (what == What.LEAVE) & np.isin(owner, last) & (value < 0)
    stays = [(int(t), int(p)) not in arrived for t, p in zip(time_us[left], part[left], strict=True)]
    return time_us[left][np.array(stays, dtype=bool)]


def replay_of(trace: Trace, line: Line, replication: int, from_us: int, to_us: int) -> Replay:
    """The window is [from_us, to_us) of the trace of this replication."""
    from_us, to_us = window_of(trace, from_us, to_us)
    start = _standing_at(trace, line, from_us)
    rows = trace.rows[(trace.rows[:, 0] >= from_us) & (trace.rows[:, 0] < to_us)]
    rows = rows[np.isin(rows[:, 1], TOLD)]
    moves = {number: _within(each, from_us, to_us) for number, each in stretches(trace, line).items()}
    data = {
        "from_us": from_us,
        "to_us": to_us,
        "weekly": bool(line.shifts),
        "owners": [[owner.name, owner.kind, owner.group] for owner in trace.owners],
        "states": {"machine": _names(MachineState), "carriage": _names(CarriageState)},
        "labels": {name: label(name) for name in [*_names(MachineState), *_names(CarriageState)]},
        "causes": [[owner, label(kind), name] for owner, kind, name in trace.stoppages],
        "last": line.route[-1],
        "capacity": {name: buffer.capacity for name, buffer in line.buffers.items()},
        "loaders": {
            number: {
                "speed": carriers(line)[carrier_of(trace.owners[number].name)].speed,
                "acceleration": carriers(line)[carrier_of(trace.owners[number].name)].acceleration,
                "stops": sorted(stops.items(), key=lambda stop: stop[1]),
                "moves": moves[number],
            }
            for number, stops in positions(trace, line).items()
        },
        "start": {
            "states": start.states,
            "contents": {owner: parts for owner, parts in start.contents.items() if parts},
            "inside": start.inside,
            "going_back": sorted(start.going_back),
        },
        "rows": _packed(rows, from_us),
        "marks": _marks(trace, start, rows),
    }
    about = f"Replication {replication}, from {_h_min(from_us)} to {_h_min(to_us)} after its start."
    scale = scale_words(plan_of(line))
    types = [(_mark(number), name) for number, name in enumerate(trace.part_types)]
    shown = _shown_states(trace, start, rows)
    return Replay(as_json(data), plan_drawing(line, moving=True), shown, about, scale, types)


def _h_min(time_us: int) -> str:
    """A time since the start in hours and minutes."""
    hours, minutes = divmod(round(time_us / HOUR_US * 60), 60)
    return f"{hours} h" + f" {minutes} min" * bool(minutes)


def _marks(trace: Trace, start: _Standing, rows: np.ndarray) -> dict[int, str]:
    """Part -> mark of its type, of all parts in the window; none where all parts are alike."""
    there = {part for parts in start.contents.values() for part in parts} | set(rows[:, 3].tolist())
    told = trace.rows[trace.rows[:, 1] == What.PART_TYPE]
    return {part: _mark(number) for part, number in told[:, [3, 4]].tolist() if part in there}


def _mark(part_type: int) -> str:
    """A letter; a number where letters do not suffice."""
    return chr(ord("A") + part_type) if part_type < 26 else str(part_type + 1)


def _packed(rows: np.ndarray, from_us: int) -> list[int]:
    """Five numbers a row, its time as what has passed since the row before [us]."""
    packed = rows.copy()
    packed[:, 0] = np.diff(rows[:, 0], prepend=from_us)
    return [int(number) for number in packed.ravel()]


def _names(states: type[MachineState] | type[CarriageState]) -> list[str]:
    return [state.name.lower() for state in states]


def _shown_states(trace: Trace, start: _Standing, rows: np.ndarray) -> list[tuple[str, str]]:
    """Name and words of the states that come up in the window, those of machines first."""
    changes = rows[rows[:, 1] == What.STATE]
    seen = {*start.states.items(), *((int(owner), int(state)) for owner, state in changes[:, [2, 4]])}
    shown = []
    for kind, states in (("machine", MachineState), ("carriage", CarriageState)):
        numbers = {state for owner, state in seen if trace.owners[owner].kind == kind}
        shown += [state.name.lower() for state in states if state in numbers]
    return [(name, label(name)) for name in dict.fromkeys(shown)]


def _within(moves: list[Stretch], from_us: int, to_us: int) -> list[Stretch]:
    """The moves that touch the window, and the last one before it, which tells where the carriage stands."""
    first = next((at for at, move in enumerate(moves) if move.to_us > from_us), len(moves))
    return [move for move in moves[max(0, first - 1) :] if move.from_us < to_us]


def _standing_at(trace: Trace, line: Line, time_us: int) -> _Standing:
    """How everything stands just before an instant."""
    found = _Standing()
    before = (trace.rows[:, 0] < time_us) & np.isin(trace.rows[:, 1], TOLD)
    for _, what, owner, part, value in trace.rows[before].tolist():
        if what == What.STATE:
            found.states[owner] = value
        elif what == What.LEAVE:
            _leaves(found, trace, line, owner, part, value)
        elif what == What.ARRIVE:
            if value >= 0:
                found.contents[value].remove(part)
            found.going_back.discard(part)
            if trace.owners[owner].kind in ("outfeed", "drawer"):
                found.inside -= 1
            else:
                found.contents[owner].append(part)
        elif what == What.SCRAP:
            found.contents[owner].remove(part)
            found.inside -= 1
        elif what == What.REWORK:
            found.going_back.add(part)
    return found


def _leaves(found: _Standing, trace: Trace, line: Line, owner: int, part: int, carriage: int) -> None:
    if trace.owners[owner].kind == "infeed":
        found.inside += 1
    else:
        found.contents[owner].remove(part)
    if carriage >= 0:
        found.contents[carriage].append(part)
    elif trace.owners[owner].group == line.route[-1] and part not in found.going_back:
        found.inside -= 1  # a route without an outfeed ends here
