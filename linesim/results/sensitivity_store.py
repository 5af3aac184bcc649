"""A sensitivity study on disk: tables, text, plots, and sensitivity.json, which makes it whole."""

from __future__ import annotations

import json
from functools import partial
from pathlib import Path

import pandas as pd

from linesim.results.files import FORMAT, read_about, write, write_table, write_text
from linesim.results.sensitivity import Sensitivity
from linesim.results.store import TEXT

SENSITIVITY = "sensitivity.json"


def save_sensitivity(found: Sensitivity, folder: Path, plots: bool) -> Path:
    """Write everything; the folder counts as a study only when sensitivity.json is there."""
    (folder / SENSITIVITY).unlink(missing_ok=True)
    (folder / "tables").mkdir(parents=True, exist_ok=True)
    for name, table in {"values": found.values, "worth": found.worth(), "tornado": found.tornado()}.items():
        write_table(table, folder / "tables", name)
    write(folder / TEXT, partial(write_text, found.text_summary() + "\n"))
    content = {"format": FORMAT, "kind": "sensitivity", "about": found.about}
    write(folder / SENSITIVITY, partial(write_text, json.dumps(content, indent=2, ensure_ascii=False) + "\n"))
    if plots:
        from linesim.results import plots as drawn
        from linesim.results.plots.sensitivity import SENSITIVITIES

        drawn.save(SENSITIVITIES, found, folder / "plots")
    return folder


def open_sensitivity(folder: Path) -> Sensitivity:
    """Read back a study that was saved in a folder."""
    about = read_about(folder / SENSITIVITY)["about"]
    return Sensitivity(pd.read_parquet(folder / "tables" / "values.parquet"), about)
