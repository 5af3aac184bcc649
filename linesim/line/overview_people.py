"""The people of a line in words: crews, and who loads machines by hand."""

from __future__ import annotations

from linesim.line.distributions import Constant
from linesim.line.hands import hands
from linesim.line.model import Line
from linesim.line.overview_words import Typed, who
from linesim.line.problems import listed


def loaded_by_hand(line: Line, typed: Typed) -> list[str]:
    lines = []
    for name, each in hands(line).items():
        lines.append(f"  {name}: {who(each.called)}; calls by priority, then the one that has waited longest")
        for station, by_hand in each.stations.items():
            times = [("load", by_hand.loads), ("unload", by_hand.unloads), ("exchange", by_hand.exchange)]
            told = [f"{key} {typed.law(law, 'stations', station, 'by_hand', key)}" for key, law in times]
            lines.append(f"    {station}: {', '.join(told)}")
    return ["Loaded by hand", *lines] if lines else []


def crews(line: Line, typed: Typed) -> list[str]:
    lines = []
    for name, crew in line.crews.items():
        after = (
            "at once"
            if crew.response == Constant(0.0)
            else f"after {typed.law(crew.response, 'crews', name, 'response')}"
        )
        by_shift = {"": crew.people} if isinstance(crew.people, int) else crew.people
        counts = [
            f"{'1 person' if n == 1 else f'{n} people'}{f' in {shift}' if shift else ''}"
            for shift, n in by_shift.items()
        ]
        lines.append(f"  {name}: {listed(counts)}, there {after}, {100 * crew.paid:g} % paid by this line")
    return ["Crews", *lines] if lines else []
