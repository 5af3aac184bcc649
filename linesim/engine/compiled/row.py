"""A flat array as compiled code sees it: a bare pointer.

An array argument is seven words with a reference count, handed through every call of every rule; a pointer is one.
Nothing checks its bounds: run with NUMBA_DISABLE_JIT=1 to look for a wrong address; `bare` gives the array then.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numba import types
from numba.extending import intrinsic, overload


def bare(array: np.ndarray) -> np.ndarray:
    """The numbers of an int64 array, to be read and written by index alone; the array must outlive the call."""
    return array.reshape(-1)


@intrinsic
def _pointer(typing: Any, address: Any) -> Any:
    def build(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
        return builder.inttoptr(arguments[0], context.get_value_type(signature.return_type))

    return types.CPointer(types.int64)(address), build


@overload(bare, strict=False)
def _bare_compiled(array: Any) -> Any:
    return lambda array: _pointer(array.ctypes.data)  # type: ignore[call-arg]
