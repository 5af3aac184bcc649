"""A comparison on disk: tables, text, the results of each line, and comparison.json, which makes it whole."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from linesim.results.comparison import Comparison
from linesim.results.files import read_about, write_study
from linesim.results.store import open_run, save

if TYPE_CHECKING:
    import pandas as pd

COMPARISON, LINES = "comparison.json", "lines"


def save_comparison(comparison: Comparison, folder: Path, line_texts: Mapping[str, str], plots: bool) -> Path:
    """Write everything; the folder counts as a comparison only when comparison.json is there."""
    (folder / COMPARISON).unlink(missing_ok=True)  # before the lines are written over
    folders = line_folders(comparison.names)
    for name, results in comparison.results.items():
        save(results, folder / folders[name], line_texts.get(name), plots=False)
    content = {"kind": "comparison", "lines": folders, "selection": comparison.selection}
    write_study(folder, COMPARISON, content, _tables(comparison), comparison.text_summary())
    if plots:
        from linesim.results import plots as drawn
        from linesim.results.plots.compared import COMPARED

        drawn.save(COMPARED, comparison, folder / "plots")
    return folder


def line_folders(names: Sequence[str]) -> dict[str, str]:
    """Line's name -> its folder in that of the comparison: numbered, as a name may hold what no file system takes."""
    words = {name: re.sub(r"[^A-Za-z0-9]+", "_", name).strip("_")[:40] for name in names}
    return {name: f"{LINES}/{number}_{words[name]}" for number, name in enumerate(names, 1)}


def open_comparison(folder: Path) -> Comparison:
    """Read back a comparison that was saved in a folder."""
    selection = read_about(folder / COMPARISON).get("selection")
    return Comparison({name: open_run(inside) for name, inside in folders_of_lines(folder).items()}, selection)


def folders_of_lines(folder: Path) -> dict[str, Path]:
    """Name of each line of a saved comparison -> the folder of its own results."""
    return {name: folder / inside for name, inside in read_about(folder / COMPARISON)["lines"].items()}


def _tables(comparison: Comparison) -> dict[str, pd.DataFrame]:
    return {
        "replications": comparison.table(),
        "summary": comparison.summary(),
        "differences": comparison.all_differences(),
        "standing": comparison.standing(),
    }
