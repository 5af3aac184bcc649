"""Reading back whatever was saved in a folder."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from linesim.results.acceptance import ACCEPTANCE, Acceptance, open_acceptance
from linesim.results.comparison import Comparison
from linesim.results.comparison_store import COMPARISON, open_comparison
from linesim.results.results import Results
from linesim.results.sensitivity import SENSITIVITY, Sensitivity, open_sensitivity
from linesim.results.store import SUMMARY, open_run
from linesim.results.sweep import Sweep, open_sweep
from linesim.results.sweep_store import SWEEP

AnyResults = Results | Comparison | Sensitivity | Acceptance | Sweep
OPENERS: dict[str, Callable[[Path], AnyResults]] = {  # by the file that makes a folder results
    SWEEP: open_sweep,
    ACCEPTANCE: open_acceptance,
    SENSITIVITY: open_sensitivity,
    COMPARISON: open_comparison,
    SUMMARY: open_run,
}


def open_results(folder: str | Path) -> AnyResults:
    """Read back what was saved in a folder: whatever kind of study it was; a sweep may be unfinished.

    Raises FileNotFoundError if nothing of the kind is there, ValueError if a later version wrote it.
    """
    return OPENERS[mark_of(Path(folder)).name](Path(folder))


def mark_of(folder: Path) -> Path:
    """The file that makes a folder results, there or not: where nothing is, that of a run is missing."""
    return next((folder / name for name in OPENERS if (folder / name).is_file()), folder / SUMMARY)
