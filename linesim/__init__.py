"""linesim: simulates automated machining lines.

>>> line = linesim.load_line("ring_cell")
>>> results = linesim.simulate(line, hours=200, warmup_hours=20, replications=5, seed=7)
>>> results.summary()

The names below are imported when first used, so that `import linesim` and `linesim --help` stay quick.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from linesim.line import load_line
    from linesim.results import ask, list_results, open_results
    from linesim.study import acceptance, compare, sensitivity, simulate, sweep

__version__ = "0.1.0"
__all__ = [
    "__version__",
    "acceptance",
    "ask",
    "compare",
    "list_results",
    "load_line",
    "open_results",
    "sensitivity",
    "simulate",
    "sweep",
]

_HOME = {
    "ask": "linesim.results",
    "list_results": "linesim.results",
    "acceptance": "linesim.study",
    "compare": "linesim.study",
    "load_line": "linesim.line",
    "open_results": "linesim.results",
    "sensitivity": "linesim.study",
    "simulate": "linesim.study",
    "sweep": "linesim.study",
}


def __getattr__(name: str) -> Any:
    if name in _HOME:
        return getattr(import_module(_HOME[name]), name)
    raise AttributeError(f"module 'linesim' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted(__all__)
