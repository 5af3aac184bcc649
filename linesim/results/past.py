"""Results of past nights: which there are, and which line of all of them is best under a condition."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pandas as pd

from linesim.results.acceptance import Acceptance
from linesim.results.comparison import Comparison
from linesim.results.conditions import DEMAND, INVESTMENT, best, meeting
from linesim.results.definitions import MEASURES
from linesim.results.labels import percent, signed
from linesim.results.opening import AnyResults, mark_of, open_results
from linesim.results.results import Results
from linesim.results.sensitivity import Sensitivity
from linesim.results.sweep import OUTPUT, Sweep

KINDS: dict[type[AnyResults], str] = {
    Results: "run",
    Comparison: "comparison",
    Sweep: "sweep",
    Sensitivity: "sensitivity",
    Acceptance: "acceptance",
}


def list_results(folder: str | Path = "outputs") -> pd.DataFrame:
    """All results in or below a folder, the newest first.

    Columns: folder, kind, saved (when), lines (of a sweep: points), seed, replications (of all together), most_per_h:
    the largest mean output among its lines [good parts/h], in a sensitivity study that of the line as it is, NaN for
    acceptance tests; what: which lines, factors or findings, in words.
    """
    rows = []
    for place in _places(Path(folder)):
        found = open_results(place)
        saved = datetime.fromtimestamp(max(file.stat().st_mtime for file in place.iterdir()))
        rows.append((str(place), KINDS[type(found)], saved, found.about["seed"], *_summed_up(found)))
    columns = ["folder", "kind", "saved", "seed", "lines", "replications", "most_per_h", "what"]
    return pd.DataFrame(rows, columns=columns).sort_values("saved", ascending=False, ignore_index=True)


def ask(
    folder: str | Path = "outputs", where: str | None = None, by: str = OUTPUT, count: int | None = 10
) -> pd.DataFrame:
    """The best lines of all runs, comparisons and sweeps in or below a folder that meet a condition, the best first.

    A row a line of a run or comparison, or a point of a sweep: folder, line, currency ("" if not known), investment,
    demand_per_h (good parts an hour that are wanted), replications, then each measure m as m, m_low and m_high (95 %).
    where, by: as in `Sweep.best`. count: None for all.

    Raises FileNotFoundError if none are there, ValueError for a condition or measure that can't be read.
    """
    found = []
    for place in _places(Path(folder)):
        results = open_results(place)
        if isinstance(results, (Results, Comparison, Sweep)):
            designs = _designs(results)
            designs.insert(0, "folder", str(place))
            found.append(designs)
    if not found:
        raise FileNotFoundError(nothing_in(Path(folder), "runs, comparisons or sweeps"))
    together = pd.concat(found, ignore_index=True)
    return best(meeting(together, where), by, count)


def nothing_in(folder: Path, what: str = "results") -> str:
    """Why nothing can be asked of a folder."""
    return f"{folder}: no {what} are in there{'' if folder.is_dir() else ', there is no such folder'}"


def _places(folder: Path) -> Iterator[Path]:
    """Folders of results in or below a folder; the lines within a comparison belong to it."""
    if mark_of(folder).is_file():
        yield folder
        return
    for inside in sorted(folder.iterdir()) if folder.is_dir() else ():
        if inside.is_dir():
            yield from _places(inside)


def _summed_up(found: AnyResults) -> tuple[int, int, float, str]:
    """Lines, replications of all together, most_per_h and what, as in `list_results`."""
    if isinstance(found, Sensitivity):
        what = found.about["name"]
        for lever, unit, mean, *_, shown in found.worth().head(1).itertuples(index=False):
            what += f"; most worth: {found.about['words'][lever]} ({signed(mean)}/h for {unit}, {shown})"
        return 1, len(found.table()), found.output().mean, what
    if isinstance(found, Acceptance):
        about, (mark, _) = found.about, found.mark_for(found.about["risk"])
        lines, told = about["lines"], f"{mark} in {about['hours']:g} h, missed by {percent(about['risk'])} at most"
        what = f"{', '.join(lines)}; highest mark of {lines[0]}: {told}"
        return len(lines), len(found.table()), math.nan, what
    if isinstance(found, Results):
        names = [found.about["name"]]
    else:
        names = found.names if isinstance(found, Comparison) else found.factors
    designs = _designs(found)
    most = designs[OUTPUT].max() if len(designs) else math.nan
    return len(designs), int(designs["replications"].sum()), most, ", ".join(names)


def _designs(found: Results | Comparison | Sweep) -> pd.DataFrame:
    """A row a line or point: line, investment, replications, measures with their intervals."""
    if isinstance(found, Sweep):
        wide = found.by_point()
        names = [_point_name(levels) for levels in wide[["point", *found.factors]].astype(str).to_dict("records")]
        designs = wide.drop(columns=["point", *found.factors])
        designs.insert(0, "line", names)
        designs.insert(1, "currency", found.currency)
        return designs
    if isinstance(found, Comparison):
        rows = [_row(name, each, found.investments()[name]) for name, each in found.results.items()]
    else:
        rows = [_row(found.about["name"], found, found.about.get("investment"))]
    return pd.DataFrame(rows)


def _point_name(levels: dict[Any, str]) -> str:
    point, *others = levels.items()
    return f"point {point[1]}: {', '.join(f'{name}={level}' for name, level in others if level)}"


def _row(name: str, results: Results, investment: float | None) -> dict[str, Any]:
    row: dict[str, Any] = {"line": name, "currency": results.about.get("currency", ""), INVESTMENT: investment}
    row |= {DEMAND: results.about.get(DEMAND), "replications": len(results.table())}
    for measure in MEASURES:
        if measure in results.table():
            found = results.estimate(measure)
            row |= {measure: found.mean, f"{measure}_low": found.low, f"{measure}_high": found.high}
    return row
