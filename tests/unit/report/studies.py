"""A sensitivity study and an acceptance test by hand; outputs chosen, nothing was run."""

from __future__ import annotations

import pandas as pd

from linesim.results import Acceptance, Sensitivity
from linesim.results.acceptance import OUTPUT_COLUMNS
from linesim.results.sensitivity import VALUE_COLUMNS
from tests.unit.report.pages import HOSTILE, results_of
from tests.unit.results.ledgers import line

OUTPUTS = {  # kind, name, at -> output in three replications; as it is: 20, 21, 22
    ("base", "", ""): (20.0, 21.0, 22.0),
    ("lever", "turn.cycle", "10 %"): (22.0, 23.1, 23.9),
    ("lever", "grind.cycle", "10 %"): (20.0, 21.0, 22.1),
    ("range", "stations.turn.cycle", "80 s"): (21.0, 22.1, 22.9),
    ("range", "stations.turn.cycle", "95 s"): (18.0, 19.1, 19.9),
}
TESTS = {"promised": range(101, 201), HOSTILE: range(51, 151)}  # good parts, one test each


def sensitivity() -> Sensitivity:
    rows = [(*key, number, made) for key, outputs in OUTPUTS.items() for number, made in enumerate(outputs, 1)]
    about = {**results_of(line()).about, "name": HOSTILE, "step_percent": 10.0, "replications": [1, 2, 3]}
    about["units"] = {"turn.cycle": "1 %", "grind.cycle": "1 %"}
    about["words"] = {"turn.cycle": f"cycle of turn {HOSTILE}", "grind.cycle": "cycle of grind"}
    return Sensitivity(pd.DataFrame(rows, columns=VALUE_COLUMNS), about)


def acceptance(mark: float | None = 120, lines: tuple[str, ...] = ("promised", HOSTILE)) -> Acceptance:
    rows = [(name, number, made) for name in lines for number, made in enumerate(TESTS[name], 1)]
    about = {"lines": list(lines), "hours": 8.0, "warmup_hours": 20.0, "seed": 7, "mark": mark, "risk": 0.05}
    return Acceptance(pd.DataFrame(rows, columns=OUTPUT_COLUMNS), about)
