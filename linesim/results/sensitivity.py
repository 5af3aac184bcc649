"""What improvements and assumptions of a line are worth in good parts an hour, each by itself."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pandas as pd

from linesim.results.differences import Difference, paired
from linesim.results.files import read_about, write_study
from linesim.results.intervals import Estimate, estimate

SENSITIVITY = "sensitivity.json"
LEVER, RANGE, BASE = "lever", "range", "base"
VALUE_COLUMNS = ["kind", "name", "at", "replication", "throughput_per_h"]
WORTH_COLUMNS = ["lever", "unit", "mean", "low", "high", "replications", "shown"]
TORNADO_COLUMNS = ["assumption", "at", "mean", "low", "high", "replications", "shown"]


class Sensitivity:
    """Output of a line, of the line with one thing better at a time, and with each assumption at the ends of its range.

    values: VALUE_COLUMNS, a row a line and replication; kind: "base", "lever" or "range"; name: of the lever or the key
    of the assumption; at: how much better ("10 %", "1 person"), or the value it was given. about: as of `Results`, and
    `step_percent`, `units` (lever -> unit of its worth) and `words` (lever -> what it is told by).
    """

    def __init__(self, values: pd.DataFrame, about: dict[str, Any]) -> None:
        self.values, self.about = values, about

    def __repr__(self) -> str:
        return (
            f"<Sensitivity of {self.about['name']!r}: {len(self.worth())} levers, {len(self.tornado())} ends of ranges>"
        )

    def table(self) -> pd.DataFrame:
        """The tidy table: VALUE_COLUMNS."""
        return self.values

    def output(self) -> Estimate:
        """Good parts an hour of the line as it is."""
        return estimate(self._of(BASE, "", ""))

    def worth(self) -> pd.DataFrame:
        """What each lever is worth, the greatest first: WORTH_COLUMNS, in good parts/h for each unit ("1 %").

        Paired over the replications; all intervals of the table together hold at 95 %.
        """
        pairs = self._pairs(LEVER)
        rows = []
        for name, at in pairs:
            unit = self.about["units"][name]
            steps = self.about["step_percent"] if unit.endswith("%") else 1.0
            found = self._difference(LEVER, name, at, len(pairs))
            rows.append(
                (name, unit, found.mean / steps, found.low / steps, found.high / steps, found.replications, found.shown)
            )
        table = pd.DataFrame(rows, columns=WORTH_COLUMNS)
        return table.sort_values("mean", ascending=False, kind="stable", ignore_index=True)

    def tornado(self) -> pd.DataFrame:
        """How far each assumption moves the output at either end of its range, the widest first: TORNADO_COLUMNS.

        In good parts/h less the line as it is; paired, and all intervals of the table together hold at 95 %.
        """
        pairs = self._pairs(RANGE)
        found = {pair: self._difference(RANGE, *pair, len(pairs)) for pair in pairs}
        rows = [(*pair, *each[:4], each.shown) for pair, each in found.items()]
        table = pd.DataFrame(rows, columns=TORNADO_COLUMNS)
        swing = table.groupby("assumption")["mean"].agg(lambda both: max(*both, 0.0) - min(*both, 0.0))
        order = table["assumption"].map(swing)
        return table.iloc[order.sort_values(ascending=False, kind="stable").index].reset_index(drop=True)

    def _repr_html_(self) -> str:
        """What a notebook shows."""
        from linesim.results.notebook import sensitivity_html

        return sensitivity_html(self)

    def text_summary(self) -> str:
        """What a person wants to read first."""
        from linesim.results.sensitivity_text import sensitivity_text

        return sensitivity_text(self)

    def save(self, folder: str | Path, plots: bool = True) -> Path:
        """Write tables, text, sensitivity.json and plots; returns the folder. `open_results` reads it back."""
        folder = Path(folder)
        tables = {"values": self.values, "worth": self.worth(), "tornado": self.tornado()}
        write_study(folder, SENSITIVITY, {"kind": "sensitivity", "about": self.about}, tables, self.text_summary())
        if plots:
            from linesim.results import plots as drawn
            from linesim.results.plots.sensitivity import SENSITIVITIES

            drawn.save(SENSITIVITIES, self, folder / "plots")
        return folder

    def _pairs(self, kind: str) -> list[tuple[str, str]]:
        """Name and `at` of all values of a kind, each once."""
        rows = self.values[self.values["kind"] == kind]
        return list(dict.fromkeys(zip(rows["name"], rows["at"], strict=True)))

    def _of(self, kind: str, name: str, at: str) -> pd.Series[float]:
        rows = self.values.query("kind == @kind and name == @name and at == @at")
        found: pd.Series[float] = rows.set_index("replication")["throughput_per_h"]
        return found

    def _difference(self, kind: str, name: str, at: str, statements: int) -> Difference:
        return paired(self._of(kind, name, at), self._of(BASE, "", ""), statements)


def open_sensitivity(folder: Path) -> Sensitivity:
    """Read back a study that was saved in a folder."""
    about = read_about(folder / SENSITIVITY)["about"]
    return Sensitivity(pd.read_parquet(folder / "tables" / "values.parquet"), about)
