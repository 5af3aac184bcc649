"""What must hold between crews and what they are called for."""

from __future__ import annotations

from collections.abc import Iterator

from linesim.line.called import each_called
from linesim.line.checks import Finding
from linesim.line.model import Called, Line
from linesim.line.problems import KeyPath, listed


def check_crews(line: Line) -> Iterator[Finding]:
    """Everything of this file."""
    for path, called in each_called(line):
        if called.crew:
            yield from _crews_can_do_it(line, path, called)
        else:
            yield from _nobody_is_called(path, called)


def _crews_can_do_it(line: Line, path: KeyPath, called: Called) -> Iterator[Finding]:
    twice = [name for name in dict.fromkeys(called.crew) if called.crew.count(name) > 1]
    if twice:
        yield Finding((*path, "crew"), list(called.crew), f"names {listed(twice)} twice", "name each crew once")
    known = [(name, line.crews[name].most_people) for name in dict.fromkeys(called.crew) if name in line.crews]
    for name, most in known:
        if called.people > most:
            rule = f"must be at most {most}: crew {name} never has more people on duty"
            beside = (("crews", name, "people"),)
            yield Finding((*path, "people"), called.people, rule, "ask for fewer, or give it more", None, beside)


def _nobody_is_called(path: KeyPath, called: Called) -> Iterator[Finding]:
    for key, value, plain in (("people", called.people, 1), ("priority", called.priority, "normal")):
        if value != plain:
            yield Finding((*path, key), value, "has a meaning only where a crew is called", "remove it, or give crew")
