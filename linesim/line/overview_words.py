"""How the summary of a line writes times, laws, counts and people, and sets a table."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from linesim.line.distributions import Constant, Distribution
from linesim.line.model import Called
from linesim.line.part_types import ByPart

WIDTH = 120


def who(called: Called) -> str:
    """Who is called, how many of them if more than one, and whether they come sooner or later than to others."""
    several = f"{called.people} of " if called.people > 1 else ""
    urgency = "" if called.priority == "normal" else f", {called.priority} priority"
    return f"{several}{', else '.join(called.crew)}{urgency}" if called.crew else ""


def wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent="  ", subsequent_indent="    ")


def shown_law(law: Distribution) -> str:
    if isinstance(law, ByPart):
        return ", ".join(f"{name} {shown_law(own)}" for name, own in law.laws.items())
    if isinstance(law, Constant):
        return shown_s(law.value)
    cv = law.sd / law.mean if law.mean else 0.0
    return f"{shown_s(law.mean)} {type(law).__name__.lower()}" + (
        "" if type(law).__name__ == "Exponential" else f", cv {cv:.3g}"
    )


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
