"""How the summary of a line writes times, laws, counts and people, and sets a table."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from typing import Any

from linesim.line.distributions import Constant, Distribution
from linesim.line.model import Called
from linesim.line.part_types import ByPart
from linesim.line.units import BadValue, parse

WIDTH = 120


def who(called: Called) -> str:
    """Who is called, how many of them if more than one, and whether they come sooner or later than to others."""
    several = f"{called.people} of " if called.people > 1 else ""
    urgency = "" if called.priority == "normal" else f", {called.priority} priority"
    return f"{several}{', else '.join(called.crew)}{urgency}" if called.crew else ""


def wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent="  ", subsequent_indent="    ")


class Typed:
    """Times as the file of a line writes them: `90 s` stays that, and does not become 1.5 min.

    content: the map of the file, which may be unknown. What stands in it is shown if it is the time that is to be told;
    else, as for a time that was worked out, the unit is chosen by size.
    """

    def __init__(self, content: Mapping[str, Any] | None = None) -> None:
        self.content = content or {}

    def time(self, seconds: float, *path: str) -> str:
        """A time [s] whose key stands at this path of the file."""
        given = self._at(path)
        try:
            same = isinstance(given, str) and parse("duration", given) == seconds
        except BadValue:
            same = False
        return str(given) if same else shown_s(seconds)

    def law(self, law: Distribution, *path: str) -> str:
        """A random duration: its mean, its family, and how much it varies."""
        if isinstance(law, ByPart):
            return ", ".join(f"{name} {self.law(own, *path, name)}" for name, own in law.laws.items())
        if isinstance(law, Constant):
            return self.time(law.value, *path)
        at = (*path, "mean") if isinstance(self._at(path), Mapping) else path
        cv = law.sd / law.mean if law.mean else 0.0
        varies = "" if type(law).__name__ == "Exponential" else f", cv {cv:.3g}"
        return f"{self.time(law.mean, *at)} {type(law).__name__.lower()}{varies}"

    def _at(self, path: Sequence[str]) -> Any:
        inside: Any = self.content
        for key in path:
            inside = inside.get(key) if isinstance(inside, Mapping) else None
        return inside


def shown_s(seconds: float) -> str:
    """Seconds up to five minutes, then minutes up to ten hours, then hours."""
    for unit, size, least in (("h", 3600, 36000), ("min", 60, 300)):
        if seconds >= least:
            return f"{seconds / size:.4g} {unit}"
    return f"{seconds:.4g} s"


def counted(number: int, thing: str) -> str:
    return f"{number} {thing}" + ("" if number == 1 else "s")


def table(rows: Sequence[tuple[str, ...]], right: Sequence[int] = ()) -> list[str]:
    """Rows as aligned columns; columns that are empty throughout are left out."""
    columns = [at for at in range(len(rows[0])) if any(row[at] for row in rows[1:])]
    widths = {at: max(len(row[at]) for row in rows) for at in columns}
    lines = []
    for row in rows:
        cells = (row[at].rjust(widths[at]) if at in right else row[at].ljust(widths[at]) for at in columns)
        lines.append(("  " + "  ".join(cells)).rstrip())
    return lines
