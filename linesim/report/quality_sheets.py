"""The tables of quality: parts by fate, rejects by station, sizes as they were made."""

from __future__ import annotations

from linesim.report.basis_sheets import in_a_run
from linesim.report.sheets import CHANGE, COUNT, PERCENT, TEXT, Cell, Column, Sheet
from linesim.results import Results
from linesim.results.intervals import estimate
from linesim.results.labels import NAMED_MEASURES

QUALITY = ("good_parts", "scrapped_parts", "sampled_parts", "reworked_parts", "false_alarm_parts", "escaped_parts")


def quality(results: Results) -> Sheet:
    """Parts by fate, of the whole line."""
    hours = results.about["planned_hours"]
    rows: list[list[Cell]] = []
    for name in QUALITY:
        counted = results.replications[name]
        rows.append([NAMED_MEASURES[name], estimate(counted), estimate(counted / hours)])
    columns = [
        Column("parts", form=TEXT),
        Column("count", in_a_run(results), COUNT, unlike=True),
        Column("rate", "parts/h", unlike=True),
    ]
    return Sheet("Quality", columns, rows, "Escaped: bad parts that no inspection caught. They count as good.")


def rejects(results: Results) -> Sheet | None:
    """Rejects by the station that they are charged to; None without any."""
    names = ("scrapped_parts", "reworked_parts", "false_alarm_parts")
    if not results.stations[list(names)].to_numpy().any():
        return None
    rows: list[list[Cell]] = [
        [str(station), *(estimate(table[name]) for name in names)]
        for station, table in results.stations.groupby("station", sort=False)
        if table[list(names)].to_numpy().any()
    ]
    heads = ("scrapped", "reworked", "false alarms")
    columns = [Column("charged to", form=TEXT), *(Column(head, in_a_run(results), COUNT) for head in heads)]
    note = "A reject is charged to the station that made the defect, a false alarm to the one that inspected."
    return Sheet("Rejects by station", columns, rows, note)


def chutes(results: Results) -> Sheet | None:
    """Scrap by the chute that it fell into; None without any chute, or in results that an earlier version stored."""
    chutes = results.tables.get("chutes")
    if chutes is None or chutes.empty:
        return None
    names = ("scrapped_parts", "parts_per_h")
    rows: list[list[Cell]] = [
        [*map(str, key), *(estimate(table[name]) for name in names)]
        for key, table in chutes.groupby(["chute", "station"], sort=False)
    ]
    heads = [Column("chute", form=TEXT), Column("brought from", form=TEXT)]
    columns = [*heads, Column("scrap", in_a_run(results), COUNT), Column("rate", "parts/h")]
    return Sheet("Chutes", columns, rows, "Each part is a trip of the loader, or a place on one.")


def drawers(results: Results) -> Sheet | None:
    """Samples by the drawer that they were put into; None without any drawer."""
    if results.drawers.empty:
        return None
    names = ("sampled_parts", "parts_per_h", "skipped_samples")
    rows: list[list[Cell]] = [
        [*map(str, key), *(estimate(table[name]) for name in names)]
        for key, table in results.drawers.groupby(["drawer", "station"], sort=False)
    ]
    heads = [
        Column("drawer", form=TEXT),
        Column("brought from", form=TEXT),
        Column("samples", in_a_run(results), COUNT),
    ]
    columns = [*heads, Column("rate", "parts/h"), Column("left out", in_a_run(results), COUNT)]
    return Sheet("Drawers", columns, rows, "Left out: the drawer was full. How full it is on the mean: see stock.")


def characteristics(results: Results) -> Sheet | None:
    """Sizes as they were made, and how often a gauge was wrong about them."""
    if results.characteristics.empty:
        return None
    columns = [
        Column("station", form=TEXT),
        Column("characteristic", form=TEXT),
        Column("made", in_a_run(results), COUNT),
        Column("out of tolerance", form=PERCENT),
        Column("mean off middle", "um", CHANGE),
        Column("standard deviation", "um"),
        Column("Cp"),
        Column("Cpk", form=CHANGE),
        Column("false rejects", form=PERCENT),
        Column("false accepts", form=PERCENT),
    ]
    names = ("made_parts", "out_share", "mean_um", "sd_um", "cp", "cpk")
    rows: list[list[Cell]] = []
    for key, table in results.characteristics.groupby(["station", "characteristic"], sort=False):
        measured = table["measured_parts"].where(table["measured_parts"] > 0)
        wrong = [estimate(table[name] / measured) for name in ("false_rejects", "false_accepts")]
        rows.append([*map(str, key), *(estimate(table[name]) for name in names), *wrong])
    note = "Realised over the whole measured time, wear included. False rejects and accepts: of the parts measured."
    return Sheet("Sizes", columns, rows, note).without_empty()
