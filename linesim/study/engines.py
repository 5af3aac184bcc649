"""Which engine runs a line. Both give the same numbers; they differ in how long they take, and the compiled one must
first be compiled on each machine, once, and needs its compiler to be installed.
"""

from __future__ import annotations

import sys

from linesim.line import Line
from linesim.line.capacity import ideal_interval_s, pace_stage
from linesim.line.problems import LineError, Problem

GLANCE_S = 5.0  # what SimPy can do within this time is not worth a compiler
SIMPY_STEP_S = 60e-6  # for a part to get from one place to the next; measured 13 (no loader) to 85 microseconds


def choose_engine(wanted: str, line: Line, simulated_h: float) -> str:
    """ "simpy" or "compiled", ready to run. `simulated_h`: time to simulate, all replications together [h].

    "auto" takes the compiled engine unless SimPy is quick enough or the compiled one can't be had, which stderr then
    tells. Raises LineError if just that one was wanted.
    """
    if wanted == "simpy" or (wanted == "auto" and simpy_s(line, simulated_h) < GLANCE_S):
        return "simpy"
    try:
        from linesim.engine.compiled import make_ready

        make_ready(line, _say)
    except (ImportError, ValueError) as error:
        lacking = isinstance(error, ImportError)
        reason = f"the compiled engine needs numba, which can't be imported here ({error})" if lacking else str(error)
        if wanted == "compiled":
            fix = "install numba, or write engine=simpy" if lacking else "write engine=simpy"
            raise LineError([Problem("engine", wanted, reason, fix)], "the run settings") from error
        _say(f"{reason}; so SimPy runs this line, more slowly")
        return "simpy"
    return "compiled"


def simpy_s(line: Line, simulated_h: float) -> float:
    """About how long the SimPy engine would take [s]: for a part at each place of its route, at the line's best pace.

    Breakdowns and waiting make it less, slow or fast machines both; it is meant to be right within a factor of five.
    """
    parts = simulated_h * 3600 / max(ideal_interval_s(line)[pace_stage(line)], 1e-6)
    return parts * len(line.route) * SIMPY_STEP_S


def _say(text: str) -> None:
    print(f"linesim: {text}", file=sys.stderr, flush=True)
