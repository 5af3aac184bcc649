"""The part of the audit that looks at samples: which parts a gauge had to measure, and which it might have."""

from __future__ import annotations

import bisect
from collections import defaultdict

from linesim.engine.contract.trace import Trace, What
from linesim.line.model import Line, Sample


class Samples:
    """What each gauge owes to each machine, told from the rows of a trace in their order."""

    def __init__(self, trace: Trace, line: Line) -> None:
        self._trace, self._line = trace, line
        self._rows = trace.rows.tolist()
        self._passed: dict[tuple[str, str, int], int] = {}  # gauge, characteristic, maker -> parts since the last one
        self._read_us: dict[tuple[str, str, int], int] = {}
        self._made_us: dict[tuple[int, str], int] = {}  # when a maker made its last
        self._pause_us: dict[tuple[int, str], int] = {}  # part -> time since the one before
        self._worn: dict[tuple[int, str], int] = {}  # maker, characteristic -> parts since its tool was renewed
        self._mark: dict[tuple[int, str], tuple[bool | None, bool]] = {}  # first, last of its tool; None: not known
        self._begins: dict[int, list[int]] = defaultdict(list)  # rows at which a machine starts or stops
        for at, (_, what, owner, *_) in enumerate(self._rows):
            if what in (What.START, What.STOP):
                self._begins[owner].append(at)

    def renewed(self, owner: int, stoppage: int) -> None:
        """A stop of a machine is over."""
        for name, size in self._line.stations[self._trace.owners[owner].group].characteristics.items():
            if self._trace.stoppages[stoppage][2] in size.after:
                self._worn[owner, name] = 0

    def made(self, at: int, name: str) -> None:
        """A machine gives a part a size, in this row."""
        time_us, _, owner, part, _ = self._rows[at]
        self._pause_us[part, name] = time_us - self._made_us.get((owner, name), 0)
        self._made_us[owner, name] = time_us
        worn = self._worn.get((owner, name))
        self._mark[part, name] = (None if worn is None else worn == 0, self._stops_after(at, owner, name))
        if worn is not None:
            self._worn[owner, name] = worn + 1

    def _stops_after(self, at: int, owner: int, name: str) -> bool:
        """Whether a machine stops for a new tool before it starts again."""
        after = self._line.stations[self._trace.owners[owner].group].characteristics[name].after
        begins = self._begins[owner]
        for begin in begins[bisect.bisect(begins, at) :]:
            _, what, _, _, value = self._rows[begin]
            if what == What.START:
                return False
            if self._trace.stoppages[value][2] in after:
                return True
        return True  # the run ends before it starts again

    def check(self, sample: Sample | None, gauge: str, name: str, maker: int, at: int, is_read: bool) -> None:
        """A part of this maker has come to a gauge, in this row, and was read or not."""
        time_us, _, _, part, _ = self._rows[at]
        where = f"part {part} at {gauge}, {time_us} us"
        if sample is None:
            assert is_read, f"{where}: {name} not read"
            return
        key = (gauge, name, maker)
        regular = key not in self._read_us and sample.every is not None
        if isinstance(sample.every, int):
            regular = regular or self._passed.get(key, 0) + 1 >= sample.every
        elif sample.every is not None:
            regular = regular or time_us - self._read_us[key] >= round(1e6 * sample.every)
        if sample.after_pause is not None:
            regular = regular or self._pause_us[part, name] >= round(1e6 * sample.after_pause)
        first, last = self._mark[part, name] if sample.first_and_last else (False, False)
        assert is_read or not (regular or first), f"{where}: {name} was to be read"
        assert not is_read or regular or first is not False or last, f"{where}: {name} was not to be read"
        self._passed[key] = 0 if is_read else self._passed.get(key, 0) + 1
        if is_read:
            self._read_us[key] = time_us
