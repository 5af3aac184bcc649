"""A pytest plug-in that runs the kernel uncompiled and looks at every index it uses.

Compiled, the kernel works on bare pointers, which nothing checks: a wrong address would run on with wrong numbers. With
NUMBA_DISABLE_JIT=1 and `-p tests.differential.checked_rows` it works on rows that refuse any index outside; negative
ones too, which a plain array would count from its end.
"""

from __future__ import annotations

import sys
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path

import numpy as np
import pytest

import linesim

ROW = "linesim.engine.compiled.row"


class CheckedRow:
    """A flat view of an array; an index below 0 or behind the end is an error."""

    looked_at = 0  # indices, in all

    def __init__(self, array: np.ndarray) -> None:
        self._numbers = array.reshape(-1)
        self._length = len(self._numbers)

    def __getitem__(self, at: int) -> np.int64:
        return self._numbers[self._checked(at)]

    def __setitem__(self, at: int, value: int) -> None:
        self._numbers[self._checked(at)] = value

    def _checked(self, at: int) -> int:
        CheckedRow.looked_at += 1
        if not 0 <= at < self._length:
            raise IndexError(f"index {at} is outside a row of {self._length} numbers")
        return at


def checked(array: np.ndarray) -> CheckedRow:
    return CheckedRow(array)


def _put_in_place() -> None:
    """The kernel takes `bare` from its module when it is imported, so that must be done before."""
    assert ROW not in sys.modules, "too late: the kernel is there already"
    place = spec_from_file_location(ROW, Path(linesim.__file__).parent / "engine" / "compiled" / "row.py")
    assert place is not None
    assert place.loader is not None
    module = module_from_spec(place)
    sys.modules[ROW] = module
    place.loader.exec_module(module)
    module.bare = checked  # type: ignore[attr-defined]


_put_in_place()


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    terminalreporter.write_line(f"indices looked at: {CheckedRow.looked_at}")
