"""Colours and hatching of states and losses, the same in every plot.

The hues are from Paul Tol's "muted" and "light" schemes (colour-blind safe, published with his technical note on colour
schemes, 2021). Which state has which is our own choice: one hue for a kind of time, hatching within it, so that a plot
can be read in grey too. They are no lamp colours: a breakdown is not red here, nor is work green.
"""

from __future__ import annotations

from typing import NamedTuple

INDIGO, CYAN, TEAL, OLIVE = "#332288", "#88CCEE", "#44AA99", "#999933"
SAND, ROSE, PURPLE, GREY = "#DDCC77", "#CC6677", "#AA4499", "#DDDDDD"
PALE_PURPLE, PALE_OLIVE, PALE_INDIGO = "#E5C3DF", "#D6D6A6", "#9C93CC"
WHITE, FAINT, INK = "#FFFFFF", "#F4F4F4", "#333333"


class Look(NamedTuple):
    colour: str
    hatch: str = ""


_LOOKS = {
    # work
    "working": Look(INDIGO),
    "loading": Look(CYAN),
    # waiting for a helper
    "waiting_loader": Look(TEAL, "//"),
    "waiting_operator": Look(TEAL, "xx"),
    # waiting for parts or room
    "blocked": Look(SAND, "\\\\"),
    "starved": Look(GREY, ".."),
    # stops that are planned with the work
    "waiting_setter": Look(PALE_OLIVE, "//"),
    "tool_change": Look(OLIVE),
    "dressing": Look(OLIVE, ".."),
    "changeover": Look(OLIVE, "\\\\"),
    "measuring_stop": Look(OLIVE, "++"),
    "cleaning": Look(OLIVE, "xx"),
    # breakdowns
    "waiting_repair": Look(PALE_PURPLE, "//"),
    "under_repair": Look(PURPLE),
    # out of planned time
    "planned_stop": Look(WHITE, "--"),
    "off_shift": Look(WHITE, "||"),
    # carriages
    "moving_loaded": Look(INDIGO),
    "moving_empty": Look(PALE_INDIGO, "//"),
    "handling": Look(CYAN),
    "waiting_at_machine": Look(TEAL, "\\\\"),
    "waiting_for_way": Look(TEAL, "++"),
    "zone_open": Look(OLIVE, "oo"),
    "idle": Look(GREY),
    # steps of the loss bridge that are no states
    "gross": Look(INDIGO),
    "good": Look(INDIGO),
    "speed": Look(ROSE, "//"),
    "scrap": Look(ROSE),
    "samples": Look(ROSE, ".."),
    "rework": Look(ROSE, "xx"),
    "growth": Look(GREY, "++"),
    "passing": Look(CYAN, "\\\\"),
}


def look(name: str) -> Look:
    """Colour and hatching of a state or loss."""
    return _LOOKS.get(name, Look(GREY))
