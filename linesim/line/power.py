"""Electric power by state: the words a line file uses, which states each of them means, and a first estimate from it.

Common practice: most of a machine's energy does not go into its work, so what it draws while it waits has a price too.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from linesim.line.capacity import stages
from linesim.line.carriers import loader_of
from linesim.line.demand import needed_per_h
from linesim.line.loader_work import loader_works
from linesim.line.model import Line

HOUR_S = 3600.0

MACHINE_WORDS: dict[str, tuple[str, ...]] = {  # word of the file -> states of a machine
    "working": ("working",),
    "loading": ("loading",),
    "waiting": ("waiting_loader", "waiting_operator", "blocked", "starved"),
    "stopped": ("waiting_setter", "tool_change", "dressing", "changeover", "measuring_stop", "cleaning"),
    "down": ("waiting_repair", "under_repair"),
    "standby": ("off_shift", "planned_stop"),
}
CARRIAGE_WORDS: dict[str, tuple[str, ...]] = {
    "moving": ("moving_empty", "moving_loaded"),
    "handling": ("handling",),
    "waiting": ("waiting_at_machine", "waiting_for_way", "zone_open", "idle"),
    "down": ("waiting_repair", "under_repair"),
    "standby": ("off_shift",),
}
DRAWS_LIKE = {"loading": "waiting", "stopped": "waiting", "down": "waiting", "handling": "moving"}  # if not given


def words_for(groups: Mapping[str, tuple[str, ...]]) -> list[str]:
    """Every word that `power` may name: the groups, then the single states within them."""
    return list(dict.fromkeys([*groups, *(state for states in groups.values() for state in states)]))


def power_by_state_kw(given_kw: Mapping[str, float], groups: Mapping[str, tuple[str, ...]]) -> dict[str, float]:
    """Power in each state [kW]: its own figure, else its group's, else that of the group it draws like, else 0."""
    return {
        state: next((given_kw[word] for word in (state, group, DRAWS_LIKE.get(group, "")) if word in given_kw), 0.0)
        for group, states in groups.items()
        for state in states
    }


def has_power(line: Line) -> bool:
    """Whether anything of this line has its power by state."""
    return any(owner.power for owners in (line.stations, line.loaders) for owner in owners.values())


def rough_energy_kwh(line: Line) -> float | None:
    """Energy for a good part at the demand [kWh]: cycles, loading and loader work as planned, the rest of the planned
    time waiting. None without a demand, or without any power by state.
    """
    if line.demand is None or not has_power(line):
        return None
    takt_s = HOUR_S / (needed_per_h(line) or math.inf)
    energy_kws, starts_per_h = 0.0, {}
    for row in stages(line):
        starts_per_h[row.station] = row.starts_per_h or 0.0
        power = power_by_state_kw(line.stations[row.station].power, MACHINE_WORDS)
        starts = starts_per_h[row.station] * takt_s / HOUR_S  # for a good part of the line
        working_s, loading_s = row.cycle_s * starts, row.load_s * starts
        if feed := line.stations[row.station].through_feed:  # it works while there is anything inside
            working_s = min(row.machines * takt_s, feed.transit * starts)
        waiting_s = max(0.0, row.machines * takt_s - working_s - loading_s)
        energy_kws += working_s * power["working"] + loading_s * power["loading"] + waiting_s * power["starved"]
    for work in loader_works(line, starts_per_h):
        if loader_of(work.loader) not in line.loaders:
            continue  # people
        power = power_by_state_kw(line.loaders[loader_of(work.loader)].power, CARRIAGE_WORDS)
        busy = (work.share or 0.0) * takt_s / work.work_s if work.work_s else 0.0  # rounds for a good part
        moving_s, handling_s = busy * work.travel_s, busy * work.handling_s
        waiting_s = max(0.0, takt_s - moving_s - handling_s)
        energy_kws += moving_s * power["moving_loaded"] + handling_s * power["handling"] + waiting_s * power["idle"]
    return energy_kws / HOUR_S
