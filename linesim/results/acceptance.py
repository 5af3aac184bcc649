"""A test of so many hours on a line: what it may give, who passes a mark, and which mark a risk allows."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd

from linesim.results.files import read_about, write_study
from linesim.results.labels import aligned, percent, shortened
from linesim.results.outlook import binomial_interval, quantile_interval
from linesim.results.text import WIDTH

ACCEPTANCE = "acceptance.json"
QUANTILES = (0.05, 0.25, 0.5, 0.75, 0.95)
OUTPUT_COLUMNS = ["line", "replication", "good_parts"]
CAUTION = (
    "The model's risk, for the inputs given: a test on site meets starting trouble, people and parts that are in no "
    "model. What is agreed about an acceptance test is for those who sign it."
)


class Acceptance:
    """Good parts in tests of lines, each test a replication of its own; the first line is the one that was promised.

    outputs: OUTPUT_COLUMNS. about: lines (names), hours, warmup_hours, seed, mark (good parts or None), risk (share).
    """

    def __init__(self, outputs: pd.DataFrame, about: dict[str, Any]) -> None:
        self.outputs, self.about = outputs, about

    def table(self) -> pd.DataFrame:
        """The tidy table: OUTPUT_COLUMNS."""
        return self.outputs

    def of(self, line: str) -> np.ndarray:
        """Good parts in each test of a line."""
        return self.outputs.loc[self.outputs["line"] == line, "good_parts"].to_numpy()

    def distribution(self) -> pd.DataFrame:
        """line, tests, mean, least, p05 to p95, most: good parts in a test."""
        rows = []
        for line in self.about["lines"]:
            made = self.of(line)
            told = [quantile_interval(made, share).value for share in QUANTILES]
            rows.append((line, len(made), made.mean(), made.min(), *told, made.max()))
        names = [f"p{round(100 * share):02}" for share in QUANTILES]
        return pd.DataFrame(rows, columns=["line", "tests", "mean", "least", *names, "most"])

    def passing(self, mark: float) -> pd.DataFrame:
        """line, passes, low, high: share of tests with at least so many good parts, with 95 % bounds (binomial)."""
        rows = []
        for line in self.about["lines"]:
            made = self.of(line)
            rows.append((line, *binomial_interval(int((made >= mark).sum()), len(made))))
        return pd.DataFrame(rows, columns=["line", "passes", "low", "high"])

    def mark_for(self, risk: float) -> tuple[int, int | None]:
        """The highest mark that the promised line fails with this risk at most, and that which does so for sure.

        The first by the share of the tests that were simulated; the second holds with 97.5 % confidence, by the sorted
        tests (order statistics), None if there are too few.
        """
        made = np.sort(self.of(self.about["lines"][0]))
        highest = int(made[min(math.floor(risk * len(made)), len(made) - 1)])  # so many at most stay below it
        low = quantile_interval(made, risk).low
        return highest, None if math.isnan(low) else int(low)

    def _repr_html_(self) -> str:
        """What a notebook shows."""
        from linesim.results.notebook import acceptance_html

        return acceptance_html(self)

    def text_summary(self) -> str:
        """What a person wants to read first."""
        blocks = [self._head(), self._outputs(), self._marks(), textwrap.wrap(CAUTION, WIDTH)]
        return "\n\n".join("\n".join(lines) for lines in map(list, blocks))

    def save(self, folder: str | Path, plots: bool = True) -> Path:
        """Write tables, text, acceptance.json and a plot; returns the folder."""
        folder = Path(folder)
        tables = {"outputs": self.outputs, "distribution": self.distribution()}
        write_study(folder, ACCEPTANCE, {"kind": "acceptance", "about": self.about}, tables, self.text_summary())
        if plots:
            from linesim.results import plots as drawn
            from linesim.results.plots.acceptance import ACCEPTANCES

            drawn.save(ACCEPTANCES, self, folder / "plots")
        return folder

    def _head(self) -> Iterator[str]:
        about = self.about
        tests = len(self.of(about["lines"][0]))
        yield f"acceptance test of {about['hours']:g} h, after {about['warmup_hours']:g} h from empty"
        yield f"{tests} tests simulated of each line, seed {about['seed']}"

    def _outputs(self) -> Iterator[str]:
        yield "good parts in a test"
        heads = ["  line", "mean", "least", "5 % below", "half below", "95 % below", "most"]
        rows = [
            [f"  {shortened(row['line'])}", f"{row['mean']:.1f}"]
            + [f"{row[name]:g}" for name in ("least", "p05", "p50", "p95", "most")]
            for row in self.distribution().to_dict("records")
        ]
        yield from aligned([heads, *rows], heads=1)

    def _marks(self) -> Iterator[str]:
        first, *others = self.about["lines"]
        mark, risk = self.about["mark"], self.about["risk"]
        if mark is not None:
            for row in self.passing(mark).to_dict("records"):
                yield f"a mark of {mark:g} good parts: {shortened(row['line'])} passes in {_bounds(row)}"
        highest, sure = self.mark_for(risk)
        words = f"that {shortened(first)} fails in {percent(risk)} of tests at most"
        sureness = f"{sure}, to be sure at 97.5 %" if sure is not None else "more tests are needed to be sure of one"
        yield f"highest mark {words}: {highest} ({sureness})"
        taken = highest if sure is None else sure
        for line in others:
            row = self.passing(taken).set_index("line").loc[line]
            yield f"  with a mark of {taken} {shortened(line)} passes all the same in {_bounds(row)}"


def _bounds(row: Any) -> str:
    """Of a row of `passing`: the share that passes, with its bounds."""
    return f"{percent(row['passes'])} ({percent(row['low'])} to {percent(row['high'])})"


def file_of(number: int) -> str:
    """The file of a line in the folder of the command, counted from 1."""
    return "line.yaml" if number == 1 else f"line_{number}.yaml"


def open_acceptance(folder: Path) -> Acceptance:
    """Read back what was saved in a folder."""
    about = read_about(folder / ACCEPTANCE)["about"]
    return Acceptance(pd.read_parquet(folder / "tables" / "outputs.parquet"), about)
