"""Results as a notebook shows them: a table of the main figures with a picture below it."""

from __future__ import annotations

import base64
import html
from collections.abc import Sequence
from typing import TYPE_CHECKING

import pandas as pd

from linesim.results.labels import figures

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from linesim.results.acceptance import Acceptance
    from linesim.results.comparison import Comparison
    from linesim.results.results import Results
    from linesim.results.sensitivity import Sensitivity
    from linesim.results.sweep import Sweep

MOST_ROWS = 20


def run_html(results: Results) -> str:
    """Every measure that is defined, with its interval, and where output is lost."""
    from linesim.results.plots import PLOTS

    known = results.summary().query("replications > 0")
    table = pd.DataFrame({"measure": known["measure"], "unit": known["unit"]})
    together = [figures([*row]) for row in known[["mean", "low", "high"]].itertuples(index=False)]
    table[["mean", "low", "high"]] = together
    return _shown(results.about["name"], table, PLOTS["losses"](results))


def comparison_html(comparison: Comparison) -> str:
    """Output of each line, its difference from the base, and both as a picture."""
    from linesim.results.plots.compared import COMPARED

    made = [each.estimate("throughput_per_h") for each in comparison.results.values()]
    differences = comparison.differences()
    table = pd.DataFrame({"line": comparison.names, "good parts/h": figures([each.mean for each in made])})
    for column in ("mean", "low", "high"):
        table[f"less the base, {column}"] = ["", *figures([*differences[column]])]
    table["shown"] = ["base", *differences["shown"]]
    return _shown(comparison.about["name"], table, COMPARED["output"](comparison))


def sweep_html(sweep: Sweep) -> str:
    """The points with most output, and what each factor does as a picture."""
    from linesim.results.plots.swept import SWEPT

    best = sweep.best(count=MOST_ROWS)
    table = best[["point", *sweep.factors]].copy()
    if best["investment"].notna().any():
        table["investment, k"] = figures([*best["investment"] / 1000])
    for name, column in (("good parts/h", ""), ("low", "_low"), ("high", "_high")):
        table[name] = figures([*best[f"throughput_per_h{column}"]])
    count = len(sweep.points)
    title = f"sweep over {', '.join(sweep.factors) or 'no factor'}: "
    title += f"the {MOST_ROWS} with most output of {count} points" if count > MOST_ROWS else f"{count} points"
    return _shown(title, table, SWEPT["effects"](sweep))


def sensitivity_html(found: Sensitivity) -> str:
    """What improvements are worth, then what the assumptions can do; the first of them as a picture."""
    from linesim.results.plots.sensitivity import SENSITIVITIES

    worth, tornado = found.worth(), found.tornado()
    made = [("for " + row["unit"], found.about["words"][row["lever"]], row) for row in worth.to_dict("records")]
    made += [("at " + row["at"], row["assumption"], row) for row in tornado.to_dict("records")]
    heads = {column: f"good parts/h, {column}" for column in ("mean", "low", "high")}
    table = pd.DataFrame(
        {
            "what": [what for _, what, _ in made],
            "step": [step for step, _, _ in made],
            **{head: figures([row[column] for _, _, row in made]) for column, head in heads.items()},
            "shown": [row["shown"] for _, _, row in made],
        }
    )
    drawn = SENSITIVITIES["worth"](found) or SENSITIVITIES["tornado"](found)
    return _shown(found.about["name"], table, drawn)


def acceptance_html(found: Acceptance) -> str:
    """What tests of each line give, and who passes which mark as a picture."""
    from linesim.results.plots.acceptance import ACCEPTANCES

    title = f"acceptance test of {found.about['hours']:g} h, good parts"
    return _shown(title, found.distribution(), ACCEPTANCES["passing"](found))


def _shown(title: str, table: pd.DataFrame, drawn: Figure | None) -> str:
    """A name may hold anything; it is shown as text. The picture is an image, in which nothing can run."""
    parts: Sequence[str] = [f"<h3>{html.escape(title)}</h3>", table.to_html(index=False, border=0)]
    if drawn is None:
        return "\n".join(parts)
    from linesim.results.plots import svg

    data = base64.b64encode(svg(drawn).encode()).decode()
    return "\n".join([*parts, f'<img alt="{html.escape(title)}" width="720" src="data:image/svg+xml;base64,{data}">'])
