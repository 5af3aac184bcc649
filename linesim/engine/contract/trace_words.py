"""The rows of a trace in words: one table that says for each kind of row how it is called and what its numbers mean."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from linesim.engine.contract.ledger import US, CarriageState, MachineState
from linesim.engine.contract.trace import Trace, What

STATE_WORDS = {  # of states whose name is no phrase once its underscores are blanks
    "waiting_repair": "waiting for repair",
    "waiting_setter": "waiting for setter",
    "waiting_loader": "waiting for loader",
    "waiting_operator": "waiting for operator",
}


def state_words(name: str) -> str:
    """A state as people say it."""
    return STATE_WORDS.get(name, name.replace("_", " "))


class Words(NamedTuple):
    """One row of a trace for people: time [s], owner's name, what happens, number of the part or None, and more."""

    time_s: float
    owner: str
    what: str
    part: int | None
    detail: str


class _Kind(NamedTuple):
    what: str
    detail: Callable[[Trace, int, int, int], str]  # of trace, owner, part, value


def _state(trace: Trace, owner: int, part: int, value: int) -> str:
    states: type[MachineState] | type[CarriageState] = MachineState
    if trace.owners[owner].kind == "carriage":
        states = CarriageState
    return state_words(states(value).name.lower())


def _by(trace: Trace, owner: int, part: int, value: int) -> str:
    return f"by {_name(trace, value)}" if value >= 0 else "directly"


def _to(trace: Trace, owner: int, part: int, value: int) -> str:
    return f"to {_name(trace, value)}"


def _leg(trace: Trace, owner: int, part: int, value: int) -> str:
    return f"to {_name(trace, part)}, {_time(value)}"


def _lasts(trace: Trace, owner: int, part: int, value: int) -> str:
    return _time(value)


def _size(trace: Trace, owner: int, part: int, value: int) -> str:
    return f"{value / 1000:+.3f} um"


def _defect(trace: Trace, owner: int, part: int, value: int) -> str:
    if value < 0:
        return ""
    station, name = trace.defects[value]
    return f"defect {name} of {station}"


def _stoppage(trace: Trace, owner: int, part: int, value: int) -> str:
    of, kind, name = trace.stoppages[value]
    if kind == "changeover":
        return kind
    cause = f"{kind} {name}".replace("_", " ", 1) if kind != "breakdown" else name
    return cause if trace.owners[owner].name == of else f"{cause} of {of}"


def _duty(trace: Trace, owner: int, part: int, value: int) -> str:
    if trace.owners[owner].kind == "crew":
        return f"{value} on duty"
    return ("on duty", "in a break or planned stop", "off shift")[value]


NO_PARTS = (What.LEG, What.GIVE_WAY, What.CALL_HANDS)  # what stands in `part` is a place, a point or a time

WORDS: dict[What, _Kind] = {
    What.STATE: _Kind("is now", _state),
    What.LEAVE: _Kind("part leaves", _by),
    What.ARRIVE: _Kind("part arrives", _by),
    What.START: _Kind("starts", _lasts),
    What.END: _Kind("ends", _defect),
    What.SCRAP: _Kind("scraps part", _defect),
    What.REWORK: _Kind("sends part back", _to),
    What.FAIL: _Kind("breaks down", _stoppage),
    What.REPAIRED: _Kind("is repaired", _stoppage),
    What.STOP: _Kind("stops for", _stoppage),
    What.STOP_OVER: _Kind("has done", _stoppage),
    What.CREW: _Kind("takes call", _stoppage),
    What.TOUR: _Kind("will serve", lambda trace, owner, part, value: _name(trace, value)),
    What.LEG: _Kind("moves", _leg),
    What.CALL: _Kind("calls ahead", lambda trace, owner, part, value: ""),
    What.STROKES: _Kind("needs strokes", lambda trace, owner, part, value: str(value)),
    What.SIZE: _Kind("makes size", _size),
    What.STOCK_CALL: _Kind("calls for", _stoppage),
    What.STOCK: _Kind("now holds", lambda trace, owner, part, value: f"{value} parts"),
    What.DUTY: _Kind("has shift change", _duty),
    What.READ: _Kind("reads size", _size),
    What.PART_TYPE: _Kind("gives part", lambda trace, owner, part, value: trace.part_types[value]),
    What.CORRECT: _Kind("is corrected", lambda trace, owner, part, value: f"by {value / 1e6:+.4f} um in all"),
    What.GIVE_WAY: _Kind("gives way", lambda trace, owner, part, value: f"to {part / US:.10g} m, {_time(value)}"),
    What.SET_ASIDE: _Kind("sets part aside", _to),
    What.CALL_HANDS: _Kind(
        "call people", lambda trace, owner, part, value: f"since {_time(part)}" if part >= 0 else "no longer"
    ),
    What.SKIPPED: _Kind("takes no sample", lambda trace, owner, part, value: f"{_name(trace, value)} is full"),
}


def in_words(trace: Trace, rows: Iterable[int] | None = None) -> Iterator[Words]:
    """The rows of a trace with these positions (all if None), in words and in their order."""
    for at in range(len(trace.rows)) if rows is None else rows:
        time_us, what, owner, part, value = (int(number) for number in trace.rows[at])
        kind = WORDS[What(what)]
        number = part if part >= 0 and what not in NO_PARTS else None
        yield Words(time_us / US, _name(trace, owner), kind.what, number, kind.detail(trace, owner, part, value))


def _name(trace: Trace, owner: int) -> str:
    """An owner's name; the ends of a route without infeed or outfeed have none of their own."""
    return trace.owners[owner].name or f"({trace.owners[owner].kind})"


def _time(duration_us: int) -> str:
    return f"{duration_us / US:.10g} s"
