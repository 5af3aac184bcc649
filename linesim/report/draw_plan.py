"""The plan of a line as a drawing inside a page."""

from __future__ import annotations

from markupsafe import Markup

from linesim.line.model import Line
from linesim.report.parts import Picture
from linesim.report.plan import WIDTH, Plan, plan_of
from linesim.report.templating import drawn

DIAGRAM = "Not to scale: a diagram. Only the positions along a rail are drawn in proportion."
TO_SCALE = (
    "To scale, the front below: sizes of places and positions along a rail. How far a place stands from its rail, and "
    "the gaps between places that no loader joins, are not given and mean nothing."
)


def plan_picture(line: Line) -> Picture:
    """Places, rails and the ways between, with the capacity of each buffer."""
    stations, machines = len(line.stations), sum(station.machines for station in line.stations.values())
    says = (
        f"plan of {line.name}: {stations} stations with {machines} machines, {len(line.buffers)} buffers and "
        f"{len(line.loaders)} loaders; in route order {', '.join(line.route)}"
    )
    places = " The number in a buffer is that of its places." if line.buffers else ""
    return Picture(plan_drawing(line), says, scale_words(plan_of(line)) + places)


def plan_drawing(line: Line, moving: bool = False) -> Markup:
    """moving: with what the script of the replay changes."""
    return drawn("plan.html", plan=plan_of(line), width=WIDTH, moving=moving)


def scale_words(plan: Plan) -> str:
    """What of the drawing is to scale."""
    if plan.bar is None:
        return DIAGRAM
    signs = " Chutes are signs of no size." if any(box.kind == "chute" for box in plan.boxes) else ""
    out = f" No room at its stop, drawn further out: {', '.join(plan.further_out)}." if plan.further_out else ""
    return TO_SCALE + signs + out
