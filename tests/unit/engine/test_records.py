"""The names of the floor."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

from linesim.engine.contract import records


def test_no_name_stands_for_two_places_on_the_floor() -> None:
    """Two files that use one name would hide each other's, without a word."""
    names: Counter[str] = Counter()
    for path in Path(records.__file__).parent.glob("*.py"):
        for first, rest in re.findall(r"^\((.*?)\) = range|^([A-Z_, ]+) = range", path.read_text(), re.S | re.M):
            names.update(re.findall(r"[A-Z][A-Z_0-9]*", re.sub("#.*", "", first or rest)))
    assert len(names) > 200
    assert [name for name, count in names.items() if count > 1] == []
