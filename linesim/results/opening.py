"""Reading back whatever was saved in a folder."""

from __future__ import annotations

from pathlib import Path

from linesim.results.acceptance import ACCEPTANCE, Acceptance, open_acceptance
from linesim.results.comparison import Comparison
from linesim.results.comparison_store import COMPARISON, open_comparison
from linesim.results.results import Results
from linesim.results.sensitivity import Sensitivity
from linesim.results.sensitivity_store import SENSITIVITY, open_sensitivity
from linesim.results.store import open_run
from linesim.results.sweep import Sweep, open_sweep
from linesim.results.sweep_store import is_sweep


def open_results(folder: str | Path) -> Results | Comparison | Sensitivity | Acceptance | Sweep:
    """Read back what was saved in a folder: whatever kind of study it was; a sweep may be unfinished.

    Raises FileNotFoundError if nothing of the kind is there, ValueError if a later version wrote it.
    """
    folder = Path(folder)
    if is_sweep(folder):
        return open_sweep(folder)
    if (folder / ACCEPTANCE).is_file():
        return open_acceptance(folder)
    if (folder / SENSITIVITY).is_file():
        return open_sensitivity(folder)
    return open_comparison(folder) if (folder / COMPARISON).is_file() else open_run(folder)
