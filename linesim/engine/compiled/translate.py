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

from linesim.engine.compiled.cache import cache_folder
from linesim.engine.compiled.row import bare

HOW: Any = {"nogil": True, "error_model": "numpy"}  # numpy: no rule divides by zero, so nothing need look for it
INLINED_BYTES = 520  # of Python's code: larger functions written into their callers gain more, but compile far longer
FROM_COMPILED_ONLY: Any = {**HOW, "no_cpython_wrapper": True, "no_cfunc_wrapper": True}


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """The function compiled at its first call, its result kept on disk; called functions become part of it."""
    copy = _with_compiled_globals(function)
    settings: Any = numba.config
    folder = settings.CACHE_DIR
    try:  # numba looks at this when a function is handed over; what others compile is none of our business
        settings.CACHE_DIR = str(_cache_folder())
        return numba.njit(cache=True, **HOW)(copy)
    finally:
        settings.CACHE_DIR = folder


_cache_folder = cache(cache_folder)  # one folder for the whole process


@cache
def _callee(function: types.FunctionType) -> Any:
    """The function compiled to be called by compiled functions only; what Python would need is left out."""
    inline = len(function.__code__.co_code) < INLINED_BYTES
    return numba.njit(**FROM_COMPILED_ONLY, forceinline=inline)(_with_compiled_globals(function))


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
