"""The results of a run: its tables, and what its replications say together."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pandas as pd

from linesim.engine.contract.ledger import Ledger
from linesim.engine.contract.trace import Trace
from linesim.line.model import Line
from linesim.results.about import about
from linesim.results.definitions import MEASURES
from linesim.results.demand import verdict
from linesim.results.intervals import Estimate, averaged, estimate
from linesim.results.outlook import outlook
from linesim.results.tables import tables_of
from linesim.results.warm_up import PILOT_COLUMNS, Pilot


class Results:
    """What came out of a run of a line. Each attribute below is a tidy table with a `replication` column.

    Their names, from replications to warm_up, and what each holds stand in `definitions.TABLES`. Every value is that of
    one replication; `summary()` and `averages()` give means with 95 % intervals. about: name, seed, hours, demand and
    so on. traces: those recorded.
    """

    def __init__(
        self, line: Line, ledgers: Sequence[Ledger], traces: Sequence[Trace] = (), pilot: Pilot | None = None
    ) -> None:
        """pilot: the run by which the warm-up was found, if one was made."""
        if not ledgers:
            raise ValueError("results need the ledger of at least one replication")
        if len({ledger.replication for ledger in ledgers}) < len(ledgers):
            raise ValueError("two ledgers are of the same replication")
        self.about = about(line, ledgers)
        self.about["warmup"] = pilot.about() if pilot else None
        self.about["precision"] = None
        self.tables = tables_of(line, ledgers)
        self.tables["warm_up"] = pilot.windows if pilot else pd.DataFrame(columns=PILOT_COLUMNS, dtype=float)
        self.traces = tuple(traces)

    @classmethod
    def restored(cls, about: dict[str, Any], tables: dict[str, pd.DataFrame]) -> Results:
        """Results as they were saved; without traces, which stay in their files."""
        results = cls.__new__(cls)
        results.about, results.tables, results.traces = about, tables, ()
        return results

    def __getattr__(self, name: str) -> pd.DataFrame:
        tables = self.__dict__.get("tables", {})
        if name in tables:
            return tables[name]
        raise AttributeError(f"results have no {name!r}; their tables are {', '.join(tables)}")

    def __dir__(self) -> list[str]:
        return sorted({*super().__dir__(), *self.tables})

    def __repr__(self) -> str:
        made = self.estimate("throughput_per_h")
        count = f"{made.replications} replication{'s' * (made.replications != 1)}"
        return f"<Results of {self.about['name']!r}: {made.mean:.2f} good parts/h, {count}>"

    def _repr_html_(self) -> str:
        """What a notebook shows."""
        from linesim.results.notebook import run_html

        return run_html(self)

    def table(self) -> pd.DataFrame:
        """The tidy table of these results: a row a replication."""
        return self.tables["replications"]

    def estimate(self, measure: str) -> Estimate:
        """Mean and 95 % interval of one measure."""
        return estimate(self.tables["replications"][measure])

    def summary(self) -> pd.DataFrame:
        """measure, unit, mean, low, high, replications: means with their 95 % t-intervals (NaN for one replication)."""
        rows = [(name, MEASURES[name].unit, *self.estimate(name)) for name in MEASURES]
        return pd.DataFrame(rows, columns=["measure", "unit", "mean", "low", "high", "replications"])

    def outlook(self) -> pd.DataFrame:
        """What a day, a week and a planned year bring: see `outlook.outlook`."""
        return outlook(self.tables["periods"])

    def averages(self, table: str, by: str | Sequence[str], value: str) -> pd.DataFrame:
        """Means and 95 % intervals of a column of a table, e.g. averages("buffers", "buffer", "mean_level")."""
        return averaged(self.tables[table], [by] if isinstance(by, str) else by, value)

    def demand_verdict(self) -> str | None:
        """ "met", "not met" or "not shown either way", by the 95 % interval of the output; None without a demand."""
        return verdict(self.estimate("throughput_per_h"), self.about["demand_per_h"])

    def text_summary(self) -> str:
        """What a person wants to read first, in lines of at most 100 characters."""
        from linesim.results.text import text_summary

        return text_summary(self)

    def save(self, folder: str | Path, line_text: str | None = None, plots: bool = True) -> Path:
        """Write tables (CSV and Parquet), recorded traces, summary and plots; returns the folder.

        line_text: the line as YAML, written to line.yaml. Earlier results there are written over. Until summary.json is
        there `open_results` refuses the folder. The plots come after it: one that fails raises, but loses no results.
        """
        from linesim.results.store import save

        return save(self, Path(folder), line_text, plots)
