"""The plan of a line as a drawing inside a page."""

from __future__ import annotations

from markupsafe import Markup

from linesim.line.model import Line
from linesim.report.parts import Picture
from linesim.report.plan import WIDTH, plan_of
from linesim.report.templating import drawn

SCALE = "Not to scale: a diagram. Only the positions along a rail are drawn in proportion."


def plan_picture(line: Line) -> Picture:
    """Places, rails and the ways between, with the capacity of each buffer."""
    stations, machines = len(line.stations), sum(station.machines for station in line.stations.values())
    says = (
        f"plan of {line.name}: {stations} stations with {machines} machines, {len(line.buffers)} buffers and "
        f"{len(line.loaders)} loaders; in route order {', '.join(line.route)}"
    )
    return Picture(plan_drawing(line), says, SCALE)


def plan_drawing(line: Line, moving: bool = False) -> Markup:
    """moving: with what the script of the replay changes."""
    return drawn("plan.html", plan=plan_of(line), width=WIDTH, moving=moving)
