"""Values of the line file that need nothing beside them: a choice, a flag, a text, a number within its limits."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from linesim.line import units
from linesim.line.floor_words import parse_floor_size, parse_sides
from linesim.line.problems import listed
from linesim.line.units import BadValue
from linesim.line.week_words import parse_days, parse_time_of_day


def choice(given: Any, allowed: tuple[str, ...]) -> str:
    if given not in allowed:
        raise BadValue(f"must be {listed(allowed, 'or')}")
    return str(given)


def flag(given: Any) -> bool:
    if not isinstance(given, bool):
        raise BadValue("must be true or false")
    return given


def items(given: Any) -> list[Any]:
    if not isinstance(given, list):
        raise BadValue("must be a list", "write [first, second]")
    return given


def text(given: Any) -> str:
    if isinstance(given, (Mapping, list, bool)) or given is None:
        raise BadValue("must be text", "write a name")
    return str(given)


def within(kind: str, value: float, rules: Mapping[str, Any]) -> float:
    """The value, if it keeps the limits of its field; they are shown in the first unit of the kind."""
    above, least, most = (rules.get(limit) for limit in ("above", "at_least", "at_most"))
    if above is not None and value <= above:
        raise BadValue(f"must be above {units.with_unit(kind, above)}")
    if least is not None and value < least:
        raise BadValue(f"must be {units.with_unit(kind, least)} or more")
    if most is not None and value > most:
        raise BadValue(f"must be at most {units.with_unit(kind, most)}")
    return value


def as_map(given: Any, kind: str | None) -> str:
    """What to write where a map of names was wanted: the same names, if a list of them was given."""
    named = isinstance(given, list) and given and all(isinstance(name, str) for name in given)
    value = units.with_unit(kind, 0) if kind in units.KINDS else "..."
    return f"write {{{', '.join(f'{name}: {value}' for name in (given if named else ['name']))}}}"


WORDS = {
    "days": parse_days,
    "time_of_day": parse_time_of_day,
    "flag": flag,
    "floor_size": parse_floor_size,
    "sides": parse_sides,
}
