"""A sweep on disk. What is planned is written first; finished runs come in files of some rows each, whole or not.

sweep.json says what was asked for and makes the folder a sweep; points.parquet has a row a point; rows/ has files of
finished runs in any order. A run is known by its point and replication, and counts once however often it stands there.
So nothing but the runs under way is lost, whenever power is.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
from collections.abc import Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import Any

import pandas as pd
import yaml

from linesim.line.file_names import GROUPS, short_levels
from linesim.line.model import Money
from linesim.results.definitions import MEASURES
from linesim.results.files import read_about, write, write_about, write_parquet, write_table, write_text

SWEEP, POINTS, ROWS, LINES = "sweep.json", "points.parquet", "rows", "lines"
RUN = ["point", "replication"]
MOST_FILES = 500  # of rows, before they are put together


def begin(folder: Path, about: Mapping[str, Any], points: pd.DataFrame, line_texts: Sequence[str]) -> None:
    """Writes what is planned; the folder is a sweep once sweep.json is there."""
    (folder / ROWS).mkdir(parents=True, exist_ok=True)
    (folder / LINES).mkdir(exist_ok=True)
    for number, text in enumerate(line_texts, 1):
        write(folder / LINES / f"{number}.yaml", partial(write_text, text))
    write(folder / POINTS, partial(write_parquet, points))
    tell(folder, about)


def tell(folder: Path, about: Mapping[str, Any]) -> None:
    """Writes what the sweep is; over what was there."""
    write_about(folder / SWEEP, {"kind": "sweep", **about})


def is_sweep(folder: Path) -> bool:
    return (folder / SWEEP).is_file()


def told(folder: Path) -> dict[str, Any]:
    """What was asked for. Raises ValueError if a later version wrote it."""
    return read_about(folder / SWEEP)


def currency_of(folder: Path) -> str:
    """The currency of the lines that the sweep laid its factors over; "" where none has money, or they do not agree."""
    found = set()
    for file in (folder / LINES).glob("*.yaml"):
        content = yaml.safe_load(file.read_text(encoding="utf-8"))
        money = content.get("money") if isinstance(content, Mapping) else None
        if isinstance(money, Mapping):
            found.add(str(money.get("currency") or Money.currency))
    return found.pop() if len(found) == 1 else ""


def points_of(folder: Path) -> pd.DataFrame:
    """As they were asked for."""
    return pd.read_parquet(folder / POINTS)


def shown_points(folder: Path) -> pd.DataFrame:
    """As people are shown them: files of lines and changes by short names."""
    points = points_of(folder)
    return points.assign(**{name: points[name].map(short_levels(points[name])) for name in GROUPS if name in points})


def keep(folder: Path, rows: Sequence[Mapping[str, Any]]) -> None:
    """Adds finished runs to the folder, all of them or, if the power fails, none."""
    table = _as_table(rows)
    name = hashlib.sha256(table[RUN].to_csv(index=False).encode()).hexdigest()[:16]
    _write_safely(table, folder / ROWS / f"{name}.parquet")
    files = _files(folder)
    if len(files) > MOST_FILES:
        put_together(folder)


def put_together(folder: Path) -> None:
    """Makes one file of rows out of many; at every instant each row stands in one of them at least."""
    files = _files(folder)
    if len(files) > 1:
        number = 1 + max((int(file.stem[4:]) for file in files if file.stem.startswith("all_")), default=0)
        _write_safely(_read(files), folder / ROWS / f"all_{number}.parquet")
        for file in files:
            file.unlink()


def rows_of(folder: Path) -> pd.DataFrame:
    """All finished runs, sorted by point and replication: these two, error, then the measures."""
    files = _files(folder)
    return _read(files) if files else _as_table([])


def finish(folder: Path, tables: Mapping[str, pd.DataFrame]) -> None:
    """Writes the tables that people read, as Parquet and CSV."""
    (folder / "tables").mkdir(exist_ok=True)
    for name, table in tables.items():
        write_table(table, folder / "tables", name)


def sweep_up(folder: Path) -> None:
    """Takes away half-written files that a killed process left."""
    for file in (*folder.glob(".*.part"), *(folder / ROWS).glob(".*.part")):
        file.unlink(missing_ok=True)


def _files(folder: Path) -> list[Path]:
    return sorted((folder / ROWS).glob("*.parquet"))


def _read(files: Sequence[Path]) -> pd.DataFrame:
    table = pd.concat([pd.read_parquet(file) for file in files], ignore_index=True)
    return table.drop_duplicates(RUN).sort_values(RUN, ignore_index=True)


def _as_table(rows: Sequence[Mapping[str, Any]]) -> pd.DataFrame:
    """Always the same columns and types, whatever failed."""
    table = pd.DataFrame(rows, columns=[*RUN, "error", *MEASURES])
    kinds = {**dict.fromkeys(RUN, "int64"), "error": "string", **dict.fromkeys(MEASURES, "float64")}
    return table.astype(kinds)


def _write_safely(table: pd.DataFrame, target: Path) -> None:
    """As `write`, and handed over by the operating system to the disk before it counts."""
    write(target, lambda beside: _to_disk(table, beside))
    with contextlib.suppress(OSError):  # not every system can do this with a folder
        folder = os.open(target.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


def _to_disk(table: pd.DataFrame, beside: Path) -> None:
    with open(beside, "wb") as file:
        table.to_parquet(file, index=False)
        file.flush()
        os.fsync(file.fileno())
