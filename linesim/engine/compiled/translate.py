"""From plain functions to compiled ones: the only file that compiles.

The rules of the contract and the functions of this room are plain Python. `compiled` takes the very same code and
compiles it with everything it calls, so no rule exists twice. No fastmath: both engines must agree to the last bit.
"""

from __future__ import annotations

import types
from collections.abc import Callable
from functools import cache
from typing import Any

import numba

from linesim.engine.compiled.row import bare


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """The function compiled, its result kept on disk; called functions become part of it."""
    return numba.njit(nogil=True, cache=True)(_with_compiled_globals(function))


@cache
def _callee(function: types.FunctionType) -> Any:
    return numba.njit(nogil=True)(_with_compiled_globals(function))


def _with_compiled_globals(function: Any) -> types.FunctionType:
    """A copy of a function that sees compiled versions of the functions it calls."""
    names = {name: function.__globals__[name] for name in function.__code__.co_names if name in function.__globals__}
    for name, value in names.items():
        if isinstance(value, types.FunctionType) and value is not bare:
            names[name] = _callee(value)
    copy = types.FunctionType(function.__code__, {"__builtins__": __builtins__, **names}, function.__name__)
    copy.__module__ = function.__module__
    copy.__qualname__ = function.__qualname__
    return copy
