"""A comparison on disk: tables, text, the results of each line, and comparison.json, which makes it whole."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from linesim.results.comparison import Comparison
from linesim.results.files import write, write_csv, write_parquet, write_text
from linesim.results.store import FORMAT, TEXT, open_run, save

if TYPE_CHECKING:
    import pandas as pd

COMPARISON, LINES = "comparison.json", "lines"


def save_comparison(comparison: Comparison, folder: Path, line_texts: Mapping[str, str], plots: bool) -> Path:
    """Write everything; the folder counts as a comparison only when comparison.json is there."""
    (folder / COMPARISON).unlink(missing_ok=True)
    (folder / "tables").mkdir(parents=True, exist_ok=True)
    folders = {}
    for number, (name, results) in enumerate(comparison.results.items(), 1):
        folders[name] = f"{LINES}/{number}"  # a name may hold what no file system takes
        save(results, folder / folders[name], line_texts.get(name), plots=False)
    for name, table in _tables(comparison).items():
        write(folder / "tables" / f"{name}.parquet", partial(write_parquet, table))
        write(folder / "tables" / f"{name}.csv", partial(write_csv, table))
    write(folder / TEXT, partial(write_text, comparison.text_summary() + "\n"))
    content = json.dumps({"format": FORMAT, "kind": "comparison", "lines": folders}, indent=2, ensure_ascii=False)
    write(folder / COMPARISON, partial(write_text, content + "\n"))
    if plots:
        _save_plots(comparison, folder / "plots")
    return folder


def open_comparison(folder: Path) -> Comparison:
    """Read back a comparison that was saved in a folder."""
    about = json.loads((folder / COMPARISON).read_text(encoding="utf-8"))
    if about.get("format") != FORMAT:
        raise ValueError(f"{folder / COMPARISON}: format {about.get('format')!r} is not known here, only {FORMAT}")
    return Comparison({name: open_run(folder / inside) for name, inside in about["lines"].items()})


def _tables(comparison: Comparison) -> dict[str, pd.DataFrame]:
    return {
        "replications": comparison.table(),
        "summary": comparison.summary(),
        "differences": comparison.all_differences(),
        "standing": comparison.standing(),
    }


def _save_plots(comparison: Comparison, folder: Path) -> None:
    from linesim.results.plots.canvas import png
    from linesim.results.plots.compared import COMPARED

    folder.mkdir(exist_ok=True)
    for name, plot in COMPARED.items():
        (folder / f"{name}.png").unlink(missing_ok=True)
        figure = plot(comparison)
        if figure is not None:
            write(folder / f"{name}.png", partial(png, figure))
