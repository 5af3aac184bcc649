"""Every measure of a replication: its unit and what it means, in one line. Printed and saved with the results."""

from __future__ import annotations

from typing import NamedTuple


class Measure(NamedTuple):
    unit: str
    definition: str


MEASURES: dict[str, Measure] = {
    "throughput_per_h": Measure("parts/h", "good parts that leave the line per planned hour of the measured time"),
    "good_parts": Measure("parts", "good parts that left in the measured time, undetected bad ones included"),
    "scrapped_parts": Measure("parts", "parts scrapped in the measured time"),
    "sampled_parts": Measure("parts", "parts put into a drawer as samples; neither good nor scrap"),
    "reworked_parts": Measure("parts", "times that a part was sent back to be worked again"),
    "false_alarm_parts": Measure("parts", "sound parts that an inspection rejected; they are scrapped or reworked too"),
    "escaped_parts": Measure("parts", "bad parts that no inspection caught; they count as good"),
    "windows_below_demand_share": Measure("share", "whole output windows with fewer good parts than demand asks for"),
    "wip_parts": Measure("parts", "mean number of parts between infeed and outfeed"),
    "wip_by_little_parts": Measure(
        "parts",
        "parts leaving per time x their mean time inside (Little 1961), for information; near the WIP in long runs",
    ),
    "lead_time_mean_s": Measure("s", "mean time of good parts from leaving the infeed to reaching the outfeed"),
    "lead_time_p05_s": Measure("s", "lead time that 5 % of the good parts fall below"),
    "lead_time_p50_s": Measure("s", "lead time that half of the good parts fall below"),
    "lead_time_p95_s": Measure("s", "lead time that 95 % of the good parts fall below"),
    "flow_factor": Measure(
        "ratio", "mean lead time / least possible one (cycles, moves and dwell without any waiting)"
    ),
    "line_oee": Measure("ratio", "good parts x ideal interval of the pace stage / planned time"),
    "energy_per_good_part_kwh": Measure(
        "kWh",
        "power in each state x time in it, of all that the file gives a power, for a good part; else its money.energy",
    ),
    "cost_per_good_part": Measure(
        "currency", "conversion cost (depreciation to scrap) of a good part at this output, without its blank"
    ),
    "annual_cost_per_good_part": Measure(
        "currency", "annuity of the investment and running cost (equivalent annual cost) of a good part at this output"
    ),
}

LESS_IS_BETTER = frozenset(
    name
    for name in MEASURES
    if name.startswith(("lead_time", "wip", "cost", "annual_cost", "energy", "scrapped", "reworked", "escaped"))
) | {"false_alarm_parts", "windows_below_demand_share", "flow_factor"}

TABLES: dict[str, str] = {
    "replications": "a row a replication, a column a measure",
    "states": "share of planned time in each state, for each machine and carriage",
    "stations": "counts and OEE by station after ISO 22400-2: availability (working / planned time) x effectiveness "
    "(planned cycle x parts made / working) x quality (parts made less rejects charged to it / parts made). "
    "own_availability = working / (working + own stops): what others impose on a machine is left out",
    "parts": "what leaves by part type: good parts, their number per planned hour, share of all good parts, scrap, and "
    "mean lead time of the good ones; none where all parts are alike",
    "losses": "loss bridge at the pace stage: what its machines would make with cycle and load time alone, less "
    "the time in each other state, speed loss, scrap and growth of stock after it, and with the parts that skip it: "
    "the good parts. It sums exactly",
    "buffers": "mean level, share of time full and empty, by buffer",
    "levels": "share of time with so many parts in a buffer",
    "ends": "infeed and outfeed with a limited stock, and drawers: mean number of parts in it, share of time empty and "
    "full",
    "chutes": "parts that fell into each chute, by the station at which they became scrap",
    "drawers": "samples put into each drawer, by station, and those left out since it was full",
    "wip": "share of time with so many parts on the line",
    "windows": "good parts and mean WIP by output window, warm-up included (measured = False); planned_h: planned "
    "time of the line in it",
    "periods": "good parts by whole day and week since the end of the warm-up, and by planned year (as much planned "
    "time as the demand has in a year); below: 1 if fewer than demand asks for in that planned time",
    "warm_up": "output and mean WIP by window of the pilot run from empty that found the warm-up; empty without one",
    "lead_times": "good parts by class of lead time, the lower bound included",
    "loaders": "share of planned time in each state, by carriage; in_use = moving, handling, waiting at a machine "
    "or for way, zone open",
    "crews": "use of each crew's people (busy time / time on duty), share of calls that waited, mean wait of all calls",
    "stoppages": "breakdowns and stops by machine or carriage: how many began, time waiting for the crew "
    "and time they took, and what they cost",
    "characteristics": "sizes made in the measured time, by characteristic: share out of tolerance, mean deviation "
    "from the middle of the tolerance, standard deviation of all of them, and from these Cp = width / (6 sd) and "
    "Cpk = distance of the mean from the nearer limit / (3 sd), as realised over the whole time. Of those measured: "
    "false rejects (good, but read out of tolerance), false accepts (bad, but read within), corrections they led to, "
    "alarms (a bad reading after a good one of the same machine), suspect parts (those of that machine in between, "
    "gone on unmeasured), late_parts (parts that a machine ended between a part and its reading, on the mean)",
    "sizes": "of the first machine of each characteristic, in stretches of equally many parts, warm-up included: mean "
    "setting (offset, wear and corrections, without chance), mean, least and largest size, as deviations from nominal",
    "bottleneck": "share of planned time as the owner with the longest running active period (shifting bottleneck, "
    "Roser, Nakano & Tanaka 2002): alone, and while it passes from or to another",
    "energy": "energy by machine or carriage that the file gives a power, and state",
    "costs": "rows of the conversion cost of a good part at this output; none without money and demand",
}


INTERVALS = (
    "Intervals are 95 % t-intervals of the mean over the replications. Where they are shown, they are cut where the "
    "quantity ends: that of a share at 0 and 100 %, others at 0 unless the mean is below. Saved tables hold them uncut."
)


def in_words() -> str:
    """All definitions as a text for people."""
    measures = [f"{name} [{unit}]: {definition}" for name, (unit, definition) in MEASURES.items()]
    tables = [f"{name}: {definition}" for name, definition in TABLES.items()]
    return "\n".join(["Measures of a replication", *measures, "", "Tables", *tables, "", INTERVALS, ""])
