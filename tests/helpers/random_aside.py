"""Random chutes for random lines: of stations that one carriage serves, now and then one chute for several of them."""

from __future__ import annotations

import itertools
from typing import Any

from hypothesis import strategies as st

from tests.helpers.lines import Plain
from tests.helpers.random_loaders import each_carriage


@st.composite
def chutes(draw: st.DrawFn, line: Plain, carriers: Plain) -> None:
    """Let scrap of some stations go by loader. Who is called ahead or makes a round is who takes parts away there."""
    if not draw(st.booleans()):
        return
    route = [place for place in line["route"] if line["buffers"].get(place, {}).get("capacity", 1)]
    onward = dict(itertools.pairwise(route))
    for loader in carriers.values():
        for one in each_carriage({"": loader}):
            named: list[str] = []
            for name in [place for place in one["stops"] if place in line["stations"]]:
                station = line["stations"][name]
                takes_away = onward.get(name) in one["stops"]
                heard = takes_away or ("fixed" not in one["next_call"] and "call_ahead" not in station)
                if heard and "chute" not in station and draw(st.booleans()):
                    if not named or draw(st.booleans()):
                        named.append(f"chute_{name}")
                        _add_stop(loader, one, named[-1], draw(st.integers(0, 12)))
                    station["chute"] = named[-1]


def _add_stop(loader: Plain, one: Plain, chute: str, at_m: int) -> None:
    stop: Any = f"{at_m} m"
    loader["stops"][chute] = stop
    if one is not loader:
        one["stops"].append(chute)
