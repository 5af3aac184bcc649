"""From what was asked for to the points of a sweep: which lines, which factors on each, by which design."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from linesim.line import Line, build
from linesim.line.file_names import CHANGE, GROUPS, LINE, TOGETHER
from linesim.line.layers import change_names, compose
from linesim.study.sweeps.designs import Levels, designed, read_table
from linesim.study.sweeps.factors import Factor, assumed, factors_in
from linesim.study.sweeps.points import Base, Points, checked


def points_asked(
    source: str | Path | Mapping[str, Any],
    overrides: Sequence[str] = (),
    changes: str | Path | Sequence[str | Path] | None = None,
    *,
    factors: Mapping[str, Any] | None = None,
    only: Mapping[str, Mapping[str, Any]] | None = None,
    design: str = "grid",
    points: int | None = None,
    table: str | Path | None = None,
    assumptions: bool = False,
    seed: int = 0,
) -> Points:
    """The points, all of them checked.

    source, overrides, changes: the line, as for `load_line`; they count where no factor says otherwise. factors: map of
    keys to levels or ranges; `line` and `change` choose files, and every such choice gets the design of the others.
    only: factors that exist in one line only, by its name. table: a CSV file of points instead of factors. assumptions:
    vary those of the line with a range too. seed: for designs with a chance in them. Raises LineError with all that is
    wrong.
    """
    lines = _Lines(source, overrides, changes)
    bases: dict[str, tuple[Base, list[Levels]]] = {}
    rows = read_table(Path(table)) if table is not None else None
    if rows is not None:
        asked = [_parted(row) for row in rows]
    else:
        asked = [*_from_factors(lines, factors_in(factors or {}), only or {}, design, points, assumptions, seed)]
    for choice, levels in asked:
        bases.setdefault(str(choice), (lines.base(choice), []))[1].append(levels)
    return checked([base for base, _ in bases.values()], [levels for _, levels in bases.values()])


class _Lines:
    """The line as it was asked for, and what becomes of it when a factor chooses another file or change."""

    def __init__(self, source: Any, overrides: Sequence[str], changes: Any) -> None:
        self._source, self._overrides, self._changes = source, overrides, changes
        self._made: dict[str, Base] = {}

    def base(self, choice: Levels) -> Base:
        if str(choice) not in self._made:
            changes = change_names(choice.get(CHANGE, self._changes))
            content = compose(choice.get(LINE, self._source), self._overrides, changes).content
            self._made[str(choice)] = Base({key: _shown(level) for key, level in choice.items()}, content)
        return self._made[str(choice)]

    def line(self, choice: Levels) -> Line:
        return build(self.base(choice).content)

    def name(self, choice: Levels) -> str:
        """By which `only` knows it: the name of its file, or of the line where it has none."""
        source = choice.get(LINE, self._source)
        return str(source.get("name", "")) if isinstance(source, Mapping) else Path(str(source)).stem


def _from_factors(
    lines: _Lines,
    factors: Sequence[Factor],
    only: Mapping[str, Mapping[str, Any]],
    design: str,
    points: int | None,
    assumptions: bool,
    seed: int,
) -> Iterator[tuple[Levels, Levels]]:
    choosing = [factor for factor in factors if factor.key in GROUPS]
    inside = [factor for factor in factors if factor.key not in GROUPS]
    for choice in designed("grid", choosing, None, seed) if choosing else [{}]:
        own = [*inside, *factors_in(only.get(lines.name(choice), {}))]
        if assumptions:
            own += [each for each in assumed(lines.line(choice)) if each.key not in {factor.key for factor in own}]
        for levels in designed(design, own, points, seed) if own or not choosing else [{}]:
            yield choice, levels


def _parted(row: Levels) -> tuple[Levels, Levels]:
    chosen = {key: level for key, level in row.items() if key in GROUPS}
    return chosen, {key: level for key, level in row.items() if key not in GROUPS}


def _shown(level: Any) -> str:
    return TOGETHER.join(map(str, level)) or "none" if isinstance(level, (list, tuple)) else str(level)
