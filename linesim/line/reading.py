"""One walk over the dataclasses of model.py that turns a plain map into a Line and notes everything wrong on the way.

Each field says by type and metadata what its key holds, so a new field needs no code here. A value that can't be used
is noted and replaced by a stand-in, so that the walk goes on and one message can hold all problems of a line.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Mapping, Set
from pathlib import Path
from typing import Any

from linesim.line import model, units, values
from linesim.line.aside import chutes_named
from linesim.line.distributions import Constant, Distribution, Exponential
from linesim.line.families import read_family
from linesim.line.fields import Holds, keys_of
from linesim.line.part_types import mix_of
from linesim.line.problems import KeyPath, Problem, dotted, listed, nearest
from linesim.line.reading_carriages import read_carriages
from linesim.line.reading_machines import NAME, unequal_machines
from linesim.line.reading_parts import by_part, from_to
from linesim.line.reading_through_feed import pitch_as_cycle
from linesim.line.sources import Origin, Origins
from linesim.line.units import BadValue

PLACES = ("infeed", "stations", "buffers", "outfeed")
_SOME = {"quantity": "count", "at_least": 0}
MOST_COUNTED = 99  # strokes and the like
_STAND_INS: dict[str, Any] = {
    "random_duration": Constant(1.0),
    "positions": (),
    "text": "",
    "tolerance": model.Tolerance(-1.0, 1.0),
    "days": (),
    "time_of_day": 0.0,
}
_NOUNS = {"Line": "a line", "Infeed": "an infeed", "Outfeed": "an outfeed", "Inspection": "an inspection"}
_NOUNS |= {
    "LoaderStop": "a loader's stop",
    "NextCall": "next_call",
    "ByHand": "by_hand",
    "EndJob": "a refill or emptying",
    "Money": "money",
    "Demand": "demand",
}


class Reader:
    """Reads one line; `problems` grows on the way."""

    def __init__(self, origins: Origins) -> None:
        self.origins = origins
        self.problems: list[Problem] = []
        self._known: dict[str, list[str] | None] = {}  # names of crews, route, this loader's stops; None: unknown

    def read(self, content: Mapping[str, Any]) -> model.Line:
        """The line that this map describes; use it only as far as `problems` allows."""
        route = content.get("route")
        self._known["crews"] = _keys(content.get("crews"))
        self._known["shifts"] = _keys(content.get("shifts"))
        self._known["parts"] = _keys(content.get("parts"))
        self._known["drawers"] = drawers = _keys(content.get("drawers"))
        self._content = content
        self._known["route"] = [str(place) for place in route] if isinstance(route, list) else None
        known = self._known["route"]
        places = [name for kind in PLACES for name in _keys(content.get(kind))]  # one off the route is told there
        self._known["stoppable"] = None if known is None else [*known, *places, *chutes_named(content), *drawers]
        line: model.Line = self._structure(model.Line, content, ())
        return line

    def note(self, path: KeyPath, value: Any, rule: str, fix: str = "", suggestion: str | None = None) -> None:
        """Add a problem; its file and line are those of the key, or of the map it is missing from."""
        inside = path
        while inside and inside not in self.origins:
            inside = inside[:-1]
        file, line, _ = self.origins.get(inside, Origin("", None, ""))
        self.problems.append(Problem(dotted(path), value, rule, fix, file or None, line, suggestion))

    def _structure(self, cls: type, given: Any, path: KeyPath) -> Any:
        """A dataclass from a map of its keys."""
        if cls is model.Station and isinstance(given, Mapping):
            given = pitch_as_cycle(self, given, path)
        fields, types, always = keys_of(cls)
        if not isinstance(given, Mapping):
            self.note(path, given, f"must be a map with {listed(fields)}", "write {key: value, ...}")
            given = {}
            needed = frozenset[str]()
        else:
            needed = always - given.keys()
        if cls is model.Loader:
            self._known["stops"] = _keys(given.get("stops"))
        for key in given:
            if key not in fields:
                suggestion = nearest(key, fields)
                needed -= {suggestion or ""}
                fix = "" if suggestion else f"{_noun(cls)} has {listed(fields)}"
                self.note((*path, key), given[key], "is an unknown key", fix, suggestion)
        self._note_missing(cls, needed, fields, path)
        found: dict[str, Any] = {}
        for key, field in fields.items():
            if key in given and "laid_over" in field.metadata:
                stops = self._known["stops"]
                found[field.name] = read_carriages(self, self._structure, self._reference, given, (*path, key))
                self._known["stops"] = stops
            elif key in given:
                found[field.name] = self._value(field, types[field.name], given[key], (*path, key))
            elif key in always:
                found[field.name] = _stand_in(field, types[field.name])
        if cls is model.Station and isinstance(given.get("machines"), Mapping):
            found["unequal"] = unequal_machines(self, self._structure, given, (*path, "machines"))
        return cls(**found)

    def _note_missing(self, cls: type, needed: Set[str], fields: Mapping[str, Any], path: KeyPath) -> None:
        for key in fields:
            if key in needed:
                self.note((*path, key), None, "is missing", f"{_noun(cls)} needs it")

    def _value(self, field: dataclasses.Field[Any], holds: Holds, given: Any, path: KeyPath) -> Any:
        """The value of one field; its default or a stand-in once a problem with it has been noted."""
        rules = field.metadata
        try:
            if "one_of" in rules:
                return values.choice(given, rules["one_of"])
            if holds.several is Mapping and rules.get("quantity") != "from_to":
                return self._named(field, holds.each, given, path)
            if "quantity" in rules:
                return self._quantity(rules, given, path)
            inner = holds.structure
            if holds.several is tuple and rules.get("or_one"):
                return self._one_or_more(rules, given, path)
            if holds.several is tuple:
                items = [((*path, at), item) for at, item in enumerate(values.items(given))]
                if inner:
                    return tuple(self._structure(inner, item, here) for here, item in items)
                texts = [(here, values.text(item)) for here, item in items]
                return tuple(
                    self._reference(text, rules["names"], here) if "names" in rules else text for here, text in texts
                )
            if inner:
                return self._structure(inner, given, path)
            text = values.text(given)
            return self._reference(text, rules["names"], path) if "names" in rules else text
        except BadValue as bad:
            known = model.CALL_RULES if rules.get("quantity") == "next_call" else rules.get("one_of", ())
            self.note(path, given, bad.rule, bad.fix, nearest(given, known))
            return _stand_in(field, holds)

    def _one_or_more(self, rules: Mapping[str, Any], given: Any, path: KeyPath) -> tuple[str, ...]:
        """A name that must exist elsewhere, or a list of such names."""
        group = rules["names"]
        if not isinstance(given, list):
            return (self._reference(values.text(given), group, path),)
        if not given and "or_none" not in rules:
            raise BadValue("must name somebody", "leave it out where nobody is needed")
        return tuple(self._reference(values.text(name), group, (*path, at)) for at, name in enumerate(given))

    def _named(self, field: dataclasses.Field[Any], inner: Any, given: Any, path: KeyPath) -> Mapping[str, Any]:
        """A map of things with names: stations, causes of breakdowns, stops of a loader."""
        if not isinstance(given, Mapping):
            raise BadValue("must be a map of names", values.as_map(given, field.metadata.get("quantity")))
        read: dict[Any, Any] = {}
        for name, value in given.items():
            here = (*path, name)
            if field.metadata.get("keys") == "count":
                read[self._number(name, here)] = self._each_quantity(field.metadata, value, here)
                continue
            if "key_names" in field.metadata:
                self._reference(name, field.metadata["key_names"], here)
            elif inner is not model.Assumption and not NAME.fullmatch(name):
                self.note(here, None, "names hold letters, digits and _ only, a letter first", "rename it")
            if inner is float:
                read[name] = self._each_quantity(field.metadata, value, here)
            elif inner is model.LoaderStop and not isinstance(value, Mapping):
                read[name] = model.LoaderStop(at=self._each_quantity({"quantity": "positions"}, value, here))
            else:
                read[name] = self._structure(inner, {} if value is None else value, here)
        return read

    def _number(self, key: str, path: KeyPath) -> int:
        """A key that is a whole number, such as a number of strokes."""
        if not (key.isascii() and key.isdigit() and int(key) <= MOST_COUNTED):
            self.note(path, None, f"must be a whole number from 0 to {MOST_COUNTED}", "write 0, 1, 2, ...")
            return 0
        return int(key)

    def _each_quantity(self, rules: Mapping[str, Any], given: Any, path: KeyPath) -> Any:
        try:
            return self._quantity(rules, given, path)
        except BadValue as bad:
            self.note(path, given, bad.rule, bad.fix)
            return _STAND_INS.get(rules["quantity"], 0.0)

    def _quantity(self, rules: Mapping[str, Any], given: Any, path: KeyPath) -> Any:
        kind = rules["quantity"]
        if kind == "random_duration":
            return self._random_duration(rules, given, path)
        if kind == "next_call":
            return self._next_call(given, path)
        if kind == "from_to":
            return from_to(given, path, self._plain_constant, self._is_part)
        if kind == "machines":
            if isinstance(given, Mapping) and given:
                return len(given)
            kind = "count"
        if kind == "tolerance":
            return self._tolerance(rules, given, path)
        if kind == "positions":
            return tuple(units.parse("length", at) for at in (given if isinstance(given, list) else [given]))
        if kind == "interval":
            interval = units.parse_interval(given)
            return values.within(units.kind_of_interval(interval), interval, rules)
        if kind == "life":
            return self._life(given, path)
        if kind == "people":
            return self._people(given, path)
        if kind in values.WORDS:
            return values.WORDS[kind](given)
        if kind == "share":
            rules = {"at_least": 0, "at_most": 1, **rules}
        return values.within(kind, units.parse(kind, given), rules)

    def _people(self, given: Any, path: KeyPath) -> int | dict[str, int]:
        """A number of people, or one for each shift that has some."""
        if not isinstance(given, Mapping):
            return int(values.within("count", units.parse("count", given), {"at_least": 1}))
        for name in given:
            self._reference(name, "shifts", (*path, name))
        told = len(self.problems)
        counts = {name: int(self._each_quantity(_SOME, count, (*path, name))) for name, count in given.items()}
        if not any(counts.values()) and told == len(self.problems):
            raise BadValue("must have somebody in some shift", "write at least 1")
        return counts or 1

    def _plain_constant(self, given: Any, path: KeyPath) -> Distribution:
        law: Distribution = self._each_quantity({"quantity": "random_duration", "plain": "constant"}, given, path)
        return law

    def _is_part(self, name: str, path: KeyPath) -> bool:
        return self._reference(name, "parts", path) in (self._known["parts"] or ())

    def _random_duration(self, rules: Mapping[str, Any], given: Any, path: KeyPath) -> Distribution:
        if rules.get("by_part") and isinstance(given, Mapping) and set(given) & set(self._known["parts"] or ()):
            mix = mix_of(self._content, str(path[1]))  # of the station that this key is of
            return by_part(given, path, mix, self._plain_constant, self._is_part)
        if isinstance(given, Mapping):
            return self._law(given, path, "duration")
        mean = values.within(
            "duration", units.parse("duration", given), {"at_least": 0, "above": rules.get("mean_above")}
        )
        return Exponential(mean) if rules["plain"] == "exponential" else Constant(mean)

    def _law(self, given: Mapping[str, Any], path: KeyPath, quantity: str) -> Distribution:
        def note(key: str | None, value: Any, rule: str, fix: str = "", suggestion: str | None = None) -> None:
            self.note((*path, key) if key else path, value, rule, fix, suggestion)

        return read_family(given, self._folder(path), note, quantity) or Constant(1.0)

    def _life(self, given: Any, path: KeyPath) -> model.Life:
        """In parts if any of its parameters is, else in time; a plain one is constant."""
        if not isinstance(given, Mapping):
            either = units.parse_interval(given)
            if either <= 0 or isinstance(either, units.Dressings):
                raise BadValue("must be a number of parts or a time above zero", "write {family: weibull, ...}")
            return model.Life(Constant(float(either)), isinstance(either, int))
        texts = [str(value) for inner in given.values() for value in (inner if isinstance(inner, list) else [inner])]
        in_parts = any(text.endswith(("parts", "part")) for text in texts)
        law = self._law(given, path, "life_in_parts" if in_parts else "duration")
        if law.mean <= 0:
            raise BadValue("must be above zero")
        return model.Life(law, in_parts)

    def _folder(self, path: KeyPath) -> Path:
        origin = self.origins.get((*path, "file")) or self.origins.get(path)
        return Path(origin.file).parent if origin and origin.layer != "override" else Path()

    def _tolerance(self, rules: Mapping[str, Any], given: Any, path: KeyPath) -> model.Tolerance:
        if isinstance(given, Mapping):
            limits: model.Tolerance = self._structure(model.Tolerance, given, path)
            return limits
        half = values.within("size", units.parse("size", given), rules) / 2
        return model.Tolerance(-half, half)

    def _next_call(self, given: Any, path: KeyPath) -> model.NextCall:
        if isinstance(given, list):
            return model.NextCall("priority", self._stops(given, path))
        if isinstance(given, Mapping) and list(given) == ["fixed"] and isinstance(given["fixed"], list):
            return model.NextCall("fixed", self._stops(given["fixed"], (*path, "fixed")))
        if isinstance(given, str) and given in model.CALL_RULES:
            return model.NextCall(given)
        rule = f"must be {listed(model.CALL_RULES, 'or')}, a list of places or a fixed round"
        raise BadValue(rule, "write a rule, [places, by, priority] or {fixed: [places, in, their, round]}")

    def _stops(self, given: list[Any], path: KeyPath) -> tuple[str, ...]:
        if not given:
            raise BadValue("needs at least one place", "name places that the loader serves")
        return tuple(self._reference(values.text(place), "stops", (*path, at)) for at, place in enumerate(given))

    def _reference(self, name: str, group: str, path: KeyPath) -> str:
        """A name that must exist elsewhere in the line: among the crews, on the route, among the loader's stops."""
        known = self._known[group]
        if known is not None and name not in known:
            where = {"crews": "is no crew of this line", "route": "is not on the route"}
            where |= {"stoppable": "is no place of the route, chute of a station or drawer"}
            where |= {"shifts": "is no shift of this line", "parts": "is no part type of this line"}
            where |= {"drawers": "is no drawer of this line"}
            near = nearest(name, known)
            fix = f"known: {listed(known)}" if known and not near else "" if known else "none is given"
            rule = f"{name} {where.get(group, 'is no stop of this loader')}"
            self.note(path, name if path[-1] != name else None, rule, fix, near)
        return name


def _stand_in(field: dataclasses.Field[Any], holds: Holds) -> Any:
    if field.default is not dataclasses.MISSING:
        return field.default
    if holds.several in (Mapping, tuple):
        return {} if holds.several is Mapping else ()
    return _STAND_INS.get(field.metadata.get("quantity", "text"), 1)


def _keys(given: Any) -> list[str]:
    return list(given) if isinstance(given, Mapping) else []


def _noun(cls: type) -> str:
    words = re.sub(r"(?<!^)([A-Z])", r" \1", cls.__name__).lower()
    return _NOUNS.get(cls.__name__, f"a {words}")
