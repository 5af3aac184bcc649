"""The files of a results folder: each is there whole or not at all."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import Any

import pandas as pd

FORMAT = 1  # of the folders that results are saved in
TEXT = "summary.txt"


def write(target: Path, put: Callable[[Path], Any]) -> None:
    """Write beside the target first and then replace it."""
    beside = target.with_name(f".{target.name}.part")
    try:
        put(beside)
        os.replace(beside, target)
    finally:
        beside.unlink(missing_ok=True)


def write_study(
    folder: Path, name: str, content: Mapping[str, Any], tables: Mapping[str, pd.DataFrame], text: str
) -> None:
    """Write the tables and the text of a study, and at last its JSON: the folder counts as results only with that."""
    (folder / name).unlink(missing_ok=True)
    (folder / "tables").mkdir(parents=True, exist_ok=True)
    for table_name, table in tables.items():
        write_table(table, folder / "tables", table_name)
    write(folder / TEXT, partial(write_text, text + "\n"))
    write_about(folder / name, content)


def write_about(file: Path, content: Mapping[str, Any]) -> None:
    """Write the JSON that makes a folder whole."""
    words = json.dumps({"format": FORMAT, **content}, indent=2, ensure_ascii=False, allow_nan=False)
    write(file, partial(write_text, words + "\n"))


def write_table(table: pd.DataFrame, folder: Path, name: str) -> None:
    """Write a table twice: as Parquet, with its types, and as CSV."""
    write(folder / f"{name}.parquet", partial(write_parquet, table))
    write(folder / f"{name}.csv", partial(write_csv, table))


def read_about(file: Path) -> dict[str, Any]:
    """The JSON that makes a folder whole. Raises ValueError if a later version wrote it."""
    about: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
    if about.get("format") != FORMAT:
        raise ValueError(f"{file}: format {about.get('format')!r} is not known here, only {FORMAT}")
    return about


def write_parquet(table: pd.DataFrame, file: Path) -> None:
    table.to_parquet(file, index=False)


def write_text(text: str, file: Path) -> None:
    file.write_text(text, encoding="utf-8", newline="\n")


def write_csv(table: pd.DataFrame, file: Path) -> None:
    table.to_csv(file, index=False, lineterminator="\n", encoding="utf-8")
