"""Quantities with their units, as people write them: `38 s`, `2.5 m/s`, `0.4 %`, `430 k`, `150 parts`.

A bare number is a count, of parts too, and nothing else. Inside, everything is in seconds, metres (sizes of parts:
micrometres), shares of 1, parts and whole money.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from linesim.line.problems import listed

NUMBER_AND_UNIT = re.compile(r"([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)\s*(.*)", re.DOTALL)


LARGEST = 1e12  # in any unit used inside; whole microseconds of it still fit 64 bits


@dataclass(frozen=True)
class Kind:
    """A kind of quantity: how a message calls it, and what each of its units is worth in the unit used inside.

    The first unit is the one that messages propose and show limits in. No units at all: a bare number.
    """

    name: str
    units: Mapping[str, float]
    whole: bool = False
    bare: bool = False  # a bare number is taken too, in the first unit


KINDS: dict[str, Kind] = {
    "count": Kind("a count", {}, whole=True),
    "number": Kind("a bare number", {}),
    "parts": Kind("a number of parts", {"parts": 1, "part": 1}, whole=True, bare=True),
    "dressings": Kind("a number of dressings", {"dressings": 1, "dressing": 1}, whole=True),
    "life_in_parts": Kind("a number of parts", {"parts": 1, "part": 1}),
    "duration": Kind("a time", {"s": 1, "min": 60, "h": 3600, "ms": 1e-3}),
    "length": Kind("a length", {"m": 1, "cm": 1e-2, "mm": 1e-3}),
    "size": Kind("a size", {"um": 1, "mm": 1e3, "nm": 1e-3}),
    "size_per_part": Kind("a change of size with each part", {"um/part": 1, "nm/part": 1e-3}),
    "speed": Kind("a speed", {"m/s": 1, "m/min": 1 / 60, "cm/s": 1e-2, "mm/s": 1e-3}),
    "acceleration": Kind("an acceleration", {"m/s2": 1, "cm/s2": 1e-2, "mm/s2": 1e-3}),
    "share": Kind("a share", {"%": 1e-2, "ppm": 1e-6}),
    "rate": Kind("a rate", {"/h": 1, "/min": 60, "parts/h": 1, "parts/min": 60}),
    "parts_per_year": Kind("parts a year", {"/year": 1, "parts/year": 1, "k/year": 1e3}),
    "hours_per_year": Kind("hours a year", {"h/year": 1}),
    "years": Kind("a number of years", {"years": 1, "year": 1}),
    "area": Kind("an area", {"m2": 1}),
    "money": Kind("an amount of money", {"k": 1e3, "M": 1e6}),
    "money_each": Kind("money for each", {"each": 1}),
    "money_per_area_year": Kind("rent for a square metre and year", {"/m2/year": 1}),
    "money_per_hour": Kind("wages for an hour", {"/h": 1}),
    "power": Kind("a power", {"kW": 1, "W": 1e-3, "MW": 1e3}),
    "money_per_energy": Kind("a price of energy", {"/kWh": 1}),
    "energy_per_part": Kind("energy for a part", {"kWh/part": 1, "Wh/part": 1e-3}),
    "money_per_part": Kind("money for a part", {"/part": 1}),
}


class BadValue(ValueError):
    """A value that can't be what it should be: the rule it breaks, and what to write instead."""

    def __init__(self, rule: str, fix: str = "") -> None:
        super().__init__(f"{rule}; {fix}")
        self.rule, self.fix = rule, fix


def parse(kind: str, given: Any) -> float:
    """The value of a quantity in the unit used inside (s, m, m/s, share of 1, parts, money, ...).

    kind: a key of KINDS; given: text with a unit, or a number. Whole kinds come back as int.
    Raises BadValue with the rule and a fix when unit or number don't fit.
    """
    what = KINDS[kind]
    number, unit = split(given, what)
    if not what.units:
        if unit:
            raise BadValue(f"must be {what.name}, without a unit", f"write {number}")
    elif not unit and not what.bare:
        raise BadValue(f"must be {what.name} with its unit ({_units(what)})", _fix_without_unit(kind, number))
    elif unit and unit not in what.units:
        as_unit = f"write {number} {_nearest_unit(unit, what)}"  # of money the unit is a currency: the number is whole
        fix = _fix_without_unit(kind, number) if kind == "money" else as_unit
        raise BadValue(f"must be {what.name} in {_units(what)}", fix)
    value = float(number)
    if abs(value * what.units.get(unit, 1)) > LARGEST:
        raise BadValue(f"is too large for {what.name}", "check number and unit")
    if not what.whole:
        return float(f"{value * what.units.get(unit, 1):.15g}")  # 0.4 % is 0.004, not 0.0040000000000000001
    if value != int(value):
        raise BadValue("must be a whole number", f"write {round(value)} {unit}".rstrip())
    return int(value)


class Dressings(int):
    """A number of dressings."""


def parse_interval(given: Any) -> int | float:
    """A number of parts as int, of dressings as Dressings, or a time in seconds as float."""
    number, unit = split(given, KINDS["duration"])
    if unit in KINDS["dressings"].units:
        return Dressings(parse("dressings", given))
    if unit in KINDS["parts"].units:
        return int(parse("parts", given))
    if unit in KINDS["duration"].units:
        return parse("duration", given)
    proposal = _nearest_unit(unit, KINDS["duration"]) if unit else "h"
    raise BadValue(
        "must be a number of parts or a time, with its unit", f"write {number} parts, or {number} {proposal}"
    )


def kind_of_interval(interval: float) -> str:
    """The kind of quantity that an interval is."""
    if isinstance(interval, Dressings):
        return "dressings"
    return "parts" if isinstance(interval, int) else "duration"


def split(given: Any, what: Kind) -> tuple[str, str]:
    """Number (as text) and unit of what was given; unit is "" for a bare number."""
    known = isinstance(given, (int, float, str)) and not isinstance(given, bool)
    match = NUMBER_AND_UNIT.fullmatch(str(given).strip()) if known else None
    if not match:
        raise BadValue(f"must be {what.name}, such as 12 {next(iter(what.units), '')}".rstrip())
    number, unit = match.groups()
    if re.match(r"[,_']\d", unit):
        raise BadValue("is not a number we can read", "use a point for decimals and nothing between thousands")
    return number, unit


def with_unit(kind: str, value: float) -> str:
    """A value of this kind as a message shows it, in the kind's first unit."""
    units = KINDS[kind].units
    if not units:
        return f"{value:g}"
    unit, worth = next(iter(units.items()))
    one = unit.removesuffix("s") if value == worth and unit.removesuffix("s") in units else unit
    return f"{value / worth:g} {one}"


def _fix_without_unit(kind: str, number: str) -> str:
    """What to write for a bare number; both ways where it may be meant as it stands, in the unit used inside."""
    as_proposed, as_it_stands = f"{number} {next(iter(KINDS[kind].units))}", with_unit(kind, float(number))
    if kind == "money" and float(number) != 0:
        return f"write {as_it_stands} for {number} units of currency, or {as_proposed} for {number} thousand"
    if kind == "share" and 0 < float(number) <= 1:
        return f"write {as_it_stands} for a share of {number}, or {as_proposed}"
    return f"write {as_proposed}"


def _units(what: Kind) -> str:
    return listed(what.units, "or")


def _nearest_unit(unit: str, what: Kind) -> str:
    """The unit that begins most like this one; the first of the kind when none does."""

    def alike(known: str) -> int:
        return len(list(itertools.takewhile(lambda pair: pair[0] == pair[1], zip(known, unit, strict=False))))

    return max(what.units, key=alike)
