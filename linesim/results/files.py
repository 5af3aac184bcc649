"""Writing files so that each is there whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pandas as pd


def write(target: Path, put: Callable[[Path], Any]) -> None:
    """Write beside the target first and then replace it."""
    beside = target.with_name(f".{target.name}.part")
    try:
        put(beside)
        os.replace(beside, target)
    finally:
        beside.unlink(missing_ok=True)


def write_parquet(table: pd.DataFrame, file: Path) -> None:
    table.to_parquet(file, index=False)


def write_text(text: str, file: Path) -> None:
    file.write_text(text, encoding="utf-8", newline="\n")


def write_csv(table: pd.DataFrame, file: Path) -> None:
    table.to_csv(file, index=False, lineterminator="\n", encoding="utf-8")
