"""Which events of a trace to show, and the table that shows them."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from linesim.engine.contract.ledger import HOUR_US
from linesim.engine.contract.trace import Trace, What
from linesim.engine.contract.trace_words import NO_PARTS, in_words
from linesim.line.problems import LineError, Problem, nearest

VALUE_IS_PLACE = (What.REWORK, What.TOUR)
VALUE_IS_CARRIAGE = (What.LEAVE, What.ARRIVE)


def selected(trace: Trace, from_h: float, to_h: float, part: int | None, name: str | None) -> np.ndarray:
    """Positions of the rows between two times [h], of one part and of one owner (or all of a station or loader).

    Rows that name the owner as the place or carriage they are about count as well. Raises LineError for a name that
    no owner has.
    """
    time_us, what, owner, parts, value = trace.rows.T
    wanted = (time_us >= round(from_h * HOUR_US)) & (time_us <= round(to_h * HOUR_US))
    if part is not None:
        wanted &= (parts == part) & ~np.isin(what, NO_PARTS)
    if name is not None:
        named = [at for at, each in enumerate(trace.owners) if name in (each.name, each.group)]
        if not named:
            known = [each.name for each in trace.owners if each.name]
            fix = f"write one of {', '.join(known)}"
            problem = Problem("machine", name, "is nothing on this line", fix, suggestion=nearest(name, known))
            raise LineError([problem], "the run settings")
        by_value = np.isin(what, VALUE_IS_PLACE + VALUE_IS_CARRIAGE) & np.isin(value, named)
        by_leg = (what == What.LEG) & np.isin(parts, named)
        wanted &= np.isin(owner, named) | by_value | by_leg
    return np.flatnonzero(wanted)


def table(trace: Trace, rows: np.ndarray) -> Iterator[str]:
    """The lines of a table of these rows; a time is printed once for all rows of its instant."""
    names = max([len("who"), *(len(each.name) for each in trace.owners)])
    yield f"{'time':>13}  {'who':<{names}}  {'what':<15}  {'part':>5}  detail"
    before = None
    for each in in_words(trace, rows):
        shown = "" if each.time_s == before else clock(each.time_s)
        before = each.time_s
        number = "" if each.part is None else each.part
        yield f"{shown:>13}  {each.owner:<{names}}  {each.what:<15}  {number:>5}  {each.detail}".rstrip()


def clock(time_s: float) -> str:
    """A time since the start as h:mm:ss.sss."""
    milliseconds = round(time_s * 1000)
    seconds, milliseconds = divmod(milliseconds, 1000)
    return f"{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}.{milliseconds:03}"
