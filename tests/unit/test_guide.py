"""The guide: its links lead somewhere, its line files load, and every key of a line file stands in it."""

import re
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any, get_args, get_type_hints

import pytest
import yaml

from linesim.line import build
from linesim.line.model import Line
from linesim.line.sources import ValueLoader

GUIDE = (Path(__file__).resolve().parents[2] / "README.md").read_text(encoding="utf-8")


def headings(text: str) -> list[str]:
    """Headings as links name them; lines of code blocks are none."""
    prose = re.sub(r"^```.*?^```", "", text, flags=re.DOTALL | re.MULTILINE)
    titles = re.findall(r"^#+ (.*)$", prose, flags=re.MULTILINE)
    return [re.sub(r"[^\w -]", "", title.lower()).replace(" ", "-") for title in titles]


def blocks(language: str, text: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```", text, flags=re.DOTALL | re.MULTILINE)


def laid_over(line: Any, more: Any) -> Any:
    if isinstance(line, Mapping) and isinstance(more, Mapping):
        return {**line, **{key: laid_over(line.get(key), value) for key, value in more.items()}}
    return more


def keys_below(kind: Any, seen: set[Any]) -> set[str]:
    """Keys that a line file may have for a type and all within it."""
    if not is_dataclass(kind):
        return set().union(*(keys_below(inner, seen) for inner in get_args(kind)))
    if kind in seen:
        return set()
    seen.add(kind)
    hints = get_type_hints(kind)
    own = [each for each in fields(kind) if "read_from" not in each.metadata]
    keys = {str(each.metadata.get("key", each.name)) for each in own}
    maps = [each for each in own if "quantity" not in each.metadata]  # others are written as words, such as next_call
    return keys.union(*(keys_below(hints[each.name], seen) for each in maps))


def test_headings_are_found_and_code_is_left_out() -> None:
    assert headings("# Infeed, outfeed\n```sh\n# no heading\n```\n## Tool-life\n") == ["infeed-outfeed", "tool-life"]


def test_every_link_of_the_guide_leads_to_a_heading() -> None:
    links = set(re.findall(r"\]\(#([\w-]+)\)", GUIDE))
    assert len(links) > 20
    assert links - set(headings(GUIDE)) == set()


def test_every_heading_has_a_name_of_its_own() -> None:
    assert len(set(headings(GUIDE))) == len(headings(GUIDE))


def test_every_key_of_a_line_file_stands_in_the_guide() -> None:
    keys = keys_below(Line, set())
    assert {"route", "cycle", "mtbf", "dead_band", "arrivals", "upkeep"} <= keys
    prose = re.sub(r"^```.*?^```", "", GUIDE, flags=re.DOTALL | re.MULTILINE)
    written = set(re.findall(r"\w+", " ".join(re.findall(r"`[^`]+`", prose) + blocks("yaml", GUIDE))))
    assert {key for key in keys if key not in written} == set()


def test_the_first_line_of_ones_own_is_a_line_after_each_step() -> None:
    section = GUIDE.partition("\n## Your own first line\n")[2].partition("\n# Changes and overrides\n")[0]
    *steps, change = [yaml.load(block, ValueLoader) for block in blocks("yaml", section)]
    assert len(steps) == 4
    line: Any = {}
    for step in steps:
        line = laid_over(line, step)
        build(line)
    built = build(laid_over(line, change))
    assert built.loaders["gantry"].next_call.places == ("harden",)


@pytest.mark.parametrize("block", [block for block in blocks("yaml", GUIDE) if "\nroute:" in block])
def test_a_whole_line_in_the_guide_is_sound(block: str) -> None:
    build(yaml.load(block, ValueLoader))
