"""From ledgers to measures with units and intervals, tables, text and plots."""

from linesim.results.acceptance import Acceptance
from linesim.results.comparison import Comparison
from linesim.results.comparison_store import line_folders
from linesim.results.opening import open_results
from linesim.results.past import ask, list_results
from linesim.results.results import Results
from linesim.results.sensitivity import Sensitivity
from linesim.results.store import trace_table
from linesim.results.sweep import Sweep
from linesim.results.text import text_summary
from linesim.results.warm_up import Pilot

__all__ = [
    "Acceptance",
    "Comparison",
    "Pilot",
    "Results",
    "Sensitivity",
    "Sweep",
    "ask",
    "line_folders",
    "list_results",
    "open_results",
    "text_summary",
    "trace_table",
]
