"""Lines side by side: each with its results, and how they differ, replication by replication."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pandas as pd

from linesim.results.definitions import LESS_IS_BETTER, MEASURES
from linesim.results.differences import from_base, from_best, stacked, wide
from linesim.results.results import Results


class Comparison:
    """What came out of several lines that were run on the same random numbers; the first is the base.

    results: line's name -> its `Results`.
    """

    def __init__(self, results: Mapping[str, Results], selection: dict[str, Any] | None = None) -> None:
        """selection: what came of choosing the best (`play_until_chosen`); lines then differ in replications.

        Raises ValueError if the lines were not run alike: the same seed and times, and else the same replications.
        """
        if len(results) < 2:
            raise ValueError("a comparison needs two lines at least")
        for key in ("seed", "hours", "warmup_hours", *(() if selection else ("replications",))):
            if len({str(each.about[key]) for each in results.values()}) > 1:
                raise ValueError(f"lines can be compared only if all were run with the same {key}")
        self.results, self.selection = dict(results), selection

    @property
    def names(self) -> list[str]:
        return list(self.results)

    @property
    def about(self) -> dict[str, Any]:
        """What was run, of the base; seed, times and replications are those of all lines."""
        return self.results[self.names[0]].about

    def __repr__(self) -> str:
        return f"<Comparison of {', '.join(self.names)}>"

    def _repr_html_(self) -> str:
        """What a notebook shows."""
        from linesim.results.notebook import comparison_html

        return comparison_html(self)

    def table(self) -> pd.DataFrame:
        """The tidy table: line, then the columns of `Results.replications`; a row a line and replication."""
        return stacked({name: each.replications for name, each in self.results.items()}, "line")

    def summary(self) -> pd.DataFrame:
        """line, measure, unit, mean, low, high, replications: each line by itself, with 95 % intervals."""
        return stacked({name: each.summary() for name, each in self.results.items()}, "line")

    def differences(self, measure: str = "throughput_per_h") -> pd.DataFrame:
        """Each line less the base in one measure: see `differences.from_base`."""
        return from_base(self._values(measure))

    def standing(self, measure: str = "throughput_per_h") -> pd.DataFrame:
        """Each line against the best of the others in one measure: see `differences.from_best`."""
        return from_best(self._values(measure), most_is_best=measure not in LESS_IS_BETTER)

    def all_differences(self) -> pd.DataFrame:
        """`differences` of every measure, one under the other: measure, unit, then its columns.

        The intervals of one measure hold together, not those of all measures.
        """
        together = stacked({name: self.differences(name) for name in MEASURES}, "measure")
        together.insert(1, "unit", [MEASURES[name].unit for name in together["measure"]])
        return together

    def investments(self) -> dict[str, float | None]:
        """Investment of each line [currency]; None where its file has no money."""
        return {name: each.about.get("investment") for name, each in self.results.items()}

    def text_summary(self) -> str:
        """What a person wants to read first, in lines of at most 100 characters."""
        from linesim.results.comparison_text import comparison_text

        return comparison_text(self)

    def save(self, folder: str | Path, line_texts: Mapping[str, str] | None = None, plots: bool = True) -> Path:
        """Write tables, text and plots, and the results of each line in a folder of its own; returns the folder.

        line_texts: each line as YAML. `open_results` reads it all back.
        """
        from linesim.results.comparison_store import save_comparison

        return save_comparison(self, Path(folder), line_texts or {}, plots)

    def _values(self, measure: str) -> pd.DataFrame:
        if measure not in MEASURES:
            raise ValueError(f"{measure!r} is no measure; there are {', '.join(MEASURES)}")
        return wide({name: each.replications for name, each in self.results.items()}, measure)
