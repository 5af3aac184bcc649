"""From ledgers to measures with units and intervals, tables, text and plots."""

from linesim.results.results import Results
from linesim.results.store import open_results, trace_table
from linesim.results.text import text_summary

__all__ = ["Results", "open_results", "text_summary", "trace_table"]
