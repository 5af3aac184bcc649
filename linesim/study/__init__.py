"""Many runs: replications, comparisons of lines, sweeps.

The names below are imported when first used, so that `linesim check` does not wait for what it does not need.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from linesim.study.accepting import acceptance
    from linesim.study.comparing import StoppedComparison, compare
    from linesim.study.replications import Stopped, simulate
    from linesim.study.sweeps.sweep import sweep
    from linesim.study.worth import sensitivity

_HOME = {
    "Stopped": "replications",
    "StoppedComparison": "comparing",
    "acceptance": "accepting",
    "compare": "comparing",
    "sensitivity": "worth",
    "simulate": "replications",
    "sweep": "sweeps.sweep",
}
__all__ = ["Stopped", "StoppedComparison", "acceptance", "compare", "sensitivity", "simulate", "sweep"]


def __getattr__(name: str) -> Any:
    if name in _HOME:
        return getattr(import_module(f"linesim.study.{_HOME[name]}"), name)
    raise AttributeError(f"module 'linesim.study' has no attribute {name!r}")
