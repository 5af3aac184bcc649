"""From ledgers to measures with units and intervals, tables, text and plots."""

from pathlib import Path

from linesim.results.comparison import Comparison
from linesim.results.comparison_store import COMPARISON, line_folders, open_comparison
from linesim.results.results import Results
from linesim.results.store import open_run, trace_table
from linesim.results.text import text_summary
from linesim.results.warm_up import Pilot

__all__ = ["Comparison", "Pilot", "Results", "line_folders", "open_results", "text_summary", "trace_table"]


def open_results(folder: str | Path) -> Results | Comparison:
    """Read back what was saved in a folder: a run or a comparison.

    Raises FileNotFoundError if nothing finished is there, ValueError if a later version wrote it.
    """
    folder = Path(folder)
    return open_comparison(folder) if (folder / COMPARISON).is_file() else open_run(folder)
