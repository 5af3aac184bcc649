"""Results of past nights: which there are, and which line of all of them is best under a condition."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pandas as pd

from linesim.results.comparison import Comparison
from linesim.results.comparison_store import COMPARISON
from linesim.results.conditions import DEMAND, INVESTMENT, best, meeting
from linesim.results.definitions import MEASURES
from linesim.results.opening import open_results
from linesim.results.results import Results
from linesim.results.store import SUMMARY
from linesim.results.sweep import OUTPUT, Sweep
from linesim.results.sweep_store import SWEEP

MARKS = {SUMMARY: "run", COMPARISON: "comparison", SWEEP: "sweep"}  # the file that makes a folder results


def list_results(folder: str | Path = "outputs") -> pd.DataFrame:
    """All results in or below a folder, the newest first.

    Columns: folder, kind, saved (when), lines (of a sweep: points), seed, replications (of all together), most_per_h:
    the largest mean output among its lines [good parts/h].
    """
    rows = []
    for kind, place in _places(Path(folder)):
        designs = _designs(place)
        saved = datetime.fromtimestamp(max(file.stat().st_mtime for file in place.iterdir()))
        most = designs[OUTPUT].max() if len(designs) else float("nan")
        rows.append((str(place), kind, saved, len(designs), _seed(place), designs["replications"].sum(), most))
    columns = ["folder", "kind", "saved", "lines", "seed", "replications", "most_per_h"]
    return pd.DataFrame(rows, columns=columns).sort_values("saved", ascending=False, ignore_index=True)


def ask(
    folder: str | Path = "outputs", where: str | None = None, by: str = OUTPUT, count: int | None = 10
) -> pd.DataFrame:
    """The best lines of all results in or below a folder that meet a condition, the best first.

    A row a line of a run or comparison, or a point of a sweep: folder, line, currency ("" if not known), investment,
    demand_per_h (good parts an hour that are wanted), replications, then each measure m as m, m_low and m_high (95 %).
    where, by: as in `Sweep.best`. count: None for all.

    Raises FileNotFoundError if no results are there, ValueError for a condition or measure that can't be read.
    """
    places = [place for _, place in _places(Path(folder))]
    if not places:
        raise FileNotFoundError(nothing_in(Path(folder)))
    found = []
    for place in places:
        designs = _designs(place)
        designs.insert(0, "folder", str(place))
        found.append(designs)
    together = pd.concat(found, ignore_index=True)
    return best(meeting(together, where), by, count)


def nothing_in(folder: Path) -> str:
    """Why nothing can be asked of a folder."""
    return f"{folder}: no results are in there{'' if folder.is_dir() else ', there is no such folder'}"


def _places(folder: Path) -> Iterator[tuple[str, Path]]:
    """Folders of results in or below a folder; the lines within a comparison belong to it."""
    for mark, kind in MARKS.items():
        if (folder / mark).is_file():
            yield kind, folder
            return
    for inside in sorted(folder.iterdir()) if folder.is_dir() else ():
        if inside.is_dir():
            yield from _places(inside)


def _designs(place: Path) -> pd.DataFrame:
    """A row a line or point: line, investment, replications, measures with their intervals."""
    found = open_results(place)
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
        assert isinstance(found, Results)  # by the mark of its folder
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


def _seed(place: Path) -> int:
    found = open_results(place)
    return int(found.about["seed"])
