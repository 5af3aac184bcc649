"""What a line is: reading line files and changes, checks, rough-cut capacity. Nothing moves here."""

from linesim.line.loading import build, line_mapping, load_line
from linesim.line.model import Line
from linesim.line.overview import summary
from linesim.line.paying_back import against
from linesim.line.problems import LineError, Problem
from linesim.line.sources import Origin, Origins, conf_dir, known_names

__all__ = [
    "Line",
    "LineError",
    "Origin",
    "Origins",
    "Problem",
    "against",
    "build",
    "conf_dir",
    "known_names",
    "line_mapping",
    "load_line",
    "summary",
]
