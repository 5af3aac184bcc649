"""Results as a notebook shows them: a table of the main figures with a picture below it."""

from __future__ import annotations

import base64
import html
from collections.abc import Sequence
from typing import TYPE_CHECKING

import pandas as pd

from linesim.results.labels import figure

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from linesim.results.comparison import Comparison
    from linesim.results.results import Results


def run_html(results: Results) -> str:
    """Every measure that is defined, with its interval, and where output is lost."""
    from linesim.results.plots import PLOTS

    known = results.summary().query("replications > 0")
    table = pd.DataFrame({"measure": known["measure"], "unit": known["unit"]})
    for column in ("mean", "low", "high"):
        table[column] = [figure(value) for value in known[column]]
    return _shown(results.about["name"], table, PLOTS["losses"](results))


def comparison_html(comparison: Comparison) -> str:
    """Output of each line, its difference from the base, and both as a picture."""
    from linesim.results.plots.compared import COMPARED

    made = [each.estimate("throughput_per_h") for each in comparison.results.values()]
    differences = comparison.differences()
    table = pd.DataFrame({"line": comparison.names, "good parts/h": [figure(each.mean) for each in made]})
    for column in ("mean", "low", "high"):
        table[f"less the base, {column}"] = ["", *(figure(value) for value in differences[column])]
    table["shown"] = ["base", *differences["shown"]]
    return _shown(comparison.about["name"], table, COMPARED["output"](comparison))


def _shown(title: str, table: pd.DataFrame, drawn: Figure | None) -> str:
    """A name may hold anything; it is shown as text. The picture is an image, in which nothing can run."""
    parts: Sequence[str] = [f"<h3>{html.escape(title)}</h3>", table.to_html(index=False, border=0)]
    if drawn is None:
        return "\n".join(parts)
    from linesim.results.plots import svg

    data = base64.b64encode(svg(drawn).encode()).decode()
    return "\n".join([*parts, f'<img alt="{html.escape(title)}" width="720" src="data:image/svg+xml;base64,{data}">'])
