"""Many runs of a line: replications, and later comparisons, sweeps and workers.

The names below are imported when first used, so that `linesim check` does not wait for what it does not need.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from linesim.study.replications import Stopped, simulate

__all__ = ["Stopped", "simulate"]


def __getattr__(name: str) -> Any:
    if name in __all__:
        return getattr(import_module("linesim.study.replications"), name)
    raise AttributeError(f"module 'linesim.study' has no attribute {name!r}")
