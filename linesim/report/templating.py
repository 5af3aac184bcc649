"""The only file that knows the template library: names from a line file are always put in as text."""

from __future__ import annotations

import base64
import hashlib
import json
from functools import cache
from importlib.resources import files
from typing import Any

import jinja2
from markupsafe import Markup

from linesim.report.sheets import interval, is_empty, sort_key, value
from linesim.results import colours
from linesim.results.measures.owners import CARRIAGE_STATES, MACHINE_STATES


def drawn(template: str, **given: Any) -> Markup:
    """A template filled in; safe to be put into another one."""
    return Markup(_environment().get_template(template).render(**given))


def source(name: str) -> Markup:
    """A style sheet or script of ours, as it is."""
    return Markup((files("linesim.report") / "templates" / name).read_text(encoding="utf-8"))


def digest(script: str) -> str:
    """What a page must say of a script so that a browser runs this one and no other."""
    return "sha256-" + base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()


def as_json(data: Any) -> Markup:
    """Data for a script inside a page; nothing in it can end its element."""
    text = json.dumps(data, ensure_ascii=True, separators=(",", ":"), allow_nan=False)
    return Markup(text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026"))


@cache
def _environment() -> jinja2.Environment:
    made = jinja2.Environment(
        loader=jinja2.PackageLoader("linesim.report", "templates"),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=jinja2.StrictUndefined,
    )
    made.filters |= {"value": value, "interval": interval, "sort_key": sort_key}
    made.tests["empty"] = is_empty
    looks = [(name, *colours.look(name)) for name in dict.fromkeys([*MACHINE_STATES, *CARRIAGE_STATES])]
    made.globals |= {"colours": colours, "looks": looks}
    return made
