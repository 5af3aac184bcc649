"""The compact ring cell without breakdowns, stops, variation and crews equals a loader diagram drawn by hand.

The diagram is the list DIAGRAM: the tours in their order, each with what it waits for. Only the times along it are
added up here, from the handling times and the motion formula; which tour comes next was worked out by hand from the
call rule `downstream_first` with two grippers and one exchange a tour, and stands beside each tour. Invented data.
"""

from __future__ import annotations

from collections import deque

from tests.helpers.lines import Plain
from tests.helpers.running import play
from tests.helpers.theory.motion import move_time_us

POSITIONS_M = {
    "stocker": 0.0,
    "turn": 3.0,
    "park_1": 4.8,
    "drill": 6.5,
    "park_2": 8.3,
    "harden": 10.0,
    "cool": 11.8,
    "grind": 14.0,
    "park_3": 15.5,
    "finish": 17.0,
    "park_4": 18.0,
    "gauge": 19.0,
    "tray": 20.5,
}
CYCLES_S = {"turn": 88, "drill": 74, "harden": 46, "grind": 82, "finish": 38, "gauge": 22}
PLACES = {"park_1": 2, "park_2": 2, "cool": 6, "park_3": 2, "park_4": 1}
DWELL_S = 90
PICK_US = PLACE_US = 3_400_000
LOAD_US = UNLOAD_US = 5_200_000
EXCHANGE_US = 7_200_000

AT_ONCE = ""
# (what the idle loader waits for, stops of the tour). The parks stay empty: the next machine is free when it matters.
DIAGRAM: list[tuple[str, list[str]]] = [
    (AT_ONCE, ["stocker", "turn"]),  # part 1
    ("turn", ["stocker", "turn", "drill"]),  # 98.6 s: turn is finished, drill empty, a blank ready: swap with part 2
    ("drill", ["drill", "harden"]),  # 194.7: turn works until 201.3, so there is nothing to swap in
    (AT_ONCE, ["stocker", "turn", "drill"]),  # 207.4: part 2 waits in turn since 201.3; swap with part 3
    ("harden", ["harden", "cool"]),  # 253.4: cool has a dwell, so it may not be passed over
    ("drill", ["drill", "harden"]),  # 306.3: turn works until 312.8
    (AT_ONCE, ["stocker", "turn", "drill"]),  # 321.9: part 3 waits in turn since 312.8; swap with part 4
    ("cool", ["cool", "grind"]),  # 355.7: part 1 has cooled for 90 s
    (AT_ONCE, ["harden", "cool"]),  # 369.0: part 2 waits in harden since 367.9
    ("drill", ["drill", "harden"]),  # 420.8: part 3; turn works until 427.3
    (AT_ONCE, ["stocker", "turn", "drill"]),  # 436.3: part 4 waits in turn; swap with part 5. grind works until 451.0
    (AT_ONCE, ["grind", "finish"]),  # 461.2: part 1; part 2 cools until 471.6, so no swap
    (AT_ONCE, ["cool", "grind"]),  # 477.5: part 2 is cool; harden works until 482.3
    (AT_ONCE, ["harden", "cool"]),  # 490.7: part 3
    ("finish", ["finish", "gauge"]),  # 515.5: part 1; grind works until 572.7
    ("drill", ["drill", "harden"]),  # 535.2: part 4; turn works until 541.8
    (AT_ONCE, ["gauge", "tray"]),  # 553.7: part 1 (since 552.5) is more downstream than part 5 in turn (since 541.8)
    (AT_ONCE, ["stocker", "turn", "drill"]),  # 568.2: part 5, swap with part 6; grind works until 572.7
    (AT_ONCE, ["cool", "grind", "finish"]),  # 597.3: part 2 in grind, part 3 is cool since 593.3: swap
    (AT_ONCE, ["harden", "cool"]),  # 619.8: part 4, since 599.7
    ("finish", ["finish", "gauge"]),  # 657.8: part 2; grind works until 694.5
    (AT_ONCE, ["drill", "harden"]),  # 672.7: part 5, since 671.3; turn works until 677.8
    (AT_ONCE, ["stocker", "turn", "drill"]),  # 691.2: part 6, swap with part 7; grind 694.5 and gauge 694.7 still work
    (AT_ONCE, ["gauge", "tray"]),  # 716.1: part 2 comes before part 3 in grind
    (AT_ONCE, ["cool", "grind", "finish"]),  # 731.9: part 3, swap with part 4, cool since 723.5
    (AT_ONCE, ["harden", "cool"]),  # 755.8: part 5, since 737.2
    ("drill", ["drill", "harden"]),  # 790.1: part 6; finish works until 793.8, turn until 796.6
    (AT_ONCE, ["finish", "gauge"]),  # 805.7: part 3 comes before part 7 in turn; grind works until 830.5
    (AT_ONCE, ["stocker", "turn", "drill"]),  # 821.3: part 7, swap with part 8; gauge works until 843.3
    (AT_ONCE, ["gauge", "tray"]),  # 849.8: part 3 comes before part 4 in grind
]


class LoaderDiagram:
    """Adds up the times along a list of tours. A place knows its parts and when each is ready to go on."""

    def __init__(self) -> None:
        self.now_us = 0
        self.at = "stocker"
        self.parts: dict[str, deque[tuple[int, int]]] = {place: deque() for place in POSITIONS_M}
        self.carried: list[tuple[float, float, int, str, str]] = []
        self.left: list[tuple[float, int, str]] = []
        self.fetched = 0

    def tour(self, waits_for: str, stops: list[str]) -> None:
        if waits_for:
            ready_us = self.parts[waits_for][0][1]
            assert ready_us > self.now_us, f"the loader need not wait for {waits_for}"
            self.now_us = ready_us
        held = picked_us = -1
        for stop in stops:
            way_m = abs(POSITIONS_M[stop] - POSITIONS_M[self.at])
            self.now_us += move_time_us(way_m, 2.5, 3.0) if way_m else 0
            self.now_us += self._handling_us(stop, is_first=stop == stops[0], is_last=stop == stops[-1])
            before, came_from, left_us = held, self.at, picked_us
            if stop != stops[-1]:
                held, picked_us = self._take(stop), self.now_us
            if stop != stops[0]:
                self._put(stop, before)
                self.carried.append((left_us / 1e6, self.now_us / 1e6, before, named(came_from), named(stop)))
            self.at = stop

    def _handling_us(self, stop: str, is_first: bool, is_last: bool) -> int:
        if stop not in CYCLES_S:
            return PICK_US if is_first else PLACE_US
        return UNLOAD_US if is_first else LOAD_US if is_last else EXCHANGE_US

    def _take(self, stop: str) -> int:
        if stop == "stocker":
            self.fetched += 1
            return self.fetched
        part, ready_us = self.parts[stop].popleft()
        assert ready_us <= self.now_us, f"part {part} is not ready in {stop}"
        return part

    def _put(self, stop: str, part: int) -> None:
        if stop == "tray":
            self.left.append((self.now_us / 1e6, part, "good"))
        else:
            assert not (stop in CYCLES_S and self.parts[stop]), f"{stop} is not empty"
            self.parts[stop].append((part, self.now_us + CYCLES_S.get(stop, DWELL_S) * 1_000_000))


def named(place: str) -> str:
    return f"{place}.1" if place in CYCLES_S else place


def ring_cell() -> Plain:
    times = {"pick": "3.4 s", "place": "3.4 s", "load": "5.2 s", "unload": "5.2 s", "exchange": "7.2 s"}
    gantry = {"stops": {place: f"{at} m" for place, at in POSITIONS_M.items()}, "grippers": 2, **times}
    return {
        "name": "compact ring cell without chance",
        "route": list(POSITIONS_M),
        "infeed": {"stocker": {}},
        "outfeed": {"tray": {}},
        "stations": {name: {"cycle": f"{cycle_s} s"} for name, cycle_s in CYCLES_S.items()},
        "buffers": {name: {"capacity": places} for name, places in PLACES.items()}
        | {"cool": {"capacity": PLACES["cool"], "dwell": f"{DWELL_S} s"}},
        "loaders": {"gantry": {**gantry, "speed": "2.5 m/s", "acceleration": "3 m/s2"}},
    }


def test_the_first_three_parts_follow_the_loader_diagram_to_the_microsecond() -> None:
    diagram = LoaderDiagram()
    for waits_for, stops in DIAGRAM:
        diagram.tour(waits_for, stops)
    assert diagram.left[0] == (568.154207, 1, "good")  # added up by hand once more, tour by tour
    played = play(ring_cell(), horizon_s=(diagram.now_us + 1) / 1e6)
    assert played.carried() == diagram.carried
    assert played.departures() == diagram.left
    assert [part for _, part, _ in diagram.left] == [1, 2, 3]
