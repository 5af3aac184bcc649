"""Which tables go into the workbook of a run, and into that of a comparison, and which charts stand beside them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from linesim.line.model import Line
from linesim.report import basis_sheets, compare_sheets, quality_sheets, run_sheets, validity
from linesim.report.answer import sentences
from linesim.report.cautions import CAUTIONS
from linesim.report.compare_sheets import Lines
from linesim.report.sheets import TEXT, Column, Sheet
from linesim.report.unlike_sheet import what_differs
from linesim.report.workbook import Chart, Leaf, Series, raw
from linesim.results import Comparison, Results
from linesim.results.colours import INDIGO, PALE_INDIGO, Look, look
from linesim.results.definitions import MEASURES
from linesim.results.labels import label

PLAIN = Look(INDIGO)


def run_book(results: Results, line: Line | None) -> list[Leaf]:
    """Summary, stations, losses, states, loaders and people, stops, stock, quality, costs, replications, basis."""
    about = results.about
    loaders = [run_sheets.loaders(results), run_sheets.crews(results)]
    stock = [run_sheets.buffers(results), run_sheets.ends(results)]
    rejects, sizes = quality_sheets.rejects(results), quality_sheets.characteristics(results)
    aside = [quality_sheets.chutes(results), quality_sheets.drawers(results)]
    costs = run_sheets.costs(results)
    money = [costs, run_sheets.investment(results, line)]
    answer = Sheet(about["name"], [Column("the answer", form=TEXT)], [[words] for words in sentences(results, line)])
    checks = validity.sheet(validity.checks(results))
    replications = raw("Replications", results.replications, units(about["currency"]))
    leaves = [
        Leaf("Summary", [answer, basis_sheets.measures(results)]),
        Leaf("Stations", [run_sheets.stations(results, line)]),
        Leaf("Losses", [run_sheets.bridge(results)], chart=_bridge_chart(results)),
        Leaf("States", [run_sheets.states(results)], chart=_states_chart(results)),
        Leaf("Days, weeks, part types", there([run_sheets.outlook(results), run_sheets.parts(results)])),
        Leaf("Loaders and people", there(loaders)),
        Leaf("Stops", there([run_sheets.stoppages(results)])),
        Leaf("Stock", there(stock)),
        Leaf("Quality", there([quality_sheets.quality(results), rejects, *aside, sizes])),
        Leaf("Costs", there(money), chart=_cost_chart(results) if costs else None),
        Leaf("Replications", [replications], chart=_output_chart()),
        Leaf("Assumptions", there([basis_sheets.assumptions(line)])),
        Leaf("How it was run", [basis_sheets.how_it_was_run(about), checks], CAUTIONS),
    ]
    return [leaf for leaf in leaves if leaf.sheets]


def comparison_book(
    comparison: Comparison, known: Lines, contents: Mapping[str, Mapping[str, Any] | None]
) -> list[Leaf]:
    """Lines, differences, what a step buys, losses side by side, what differs, replications, basis."""
    money = [compare_sheets.steps(comparison), compare_sheets.paying(comparison, known)]
    lines = compare_sheets.lines(comparison)
    leaves = [
        Leaf("Lines", [lines], chart=Chart("Output", [Series(1, PLAIN)], "good parts/h")),
        Leaf("Differences", [compare_sheets.differences(comparison)]),
        Leaf("Money", there(money), compare_sheets.break_even(comparison, known)),
        Leaf("Losses", [compare_sheets.losses(comparison)]),
        Leaf("What differs", there([what_differs(comparison.names, contents)])),
        Leaf("Replications", [raw("Replications", comparison.table(), units(comparison.about["currency"]))]),
        Leaf("Assumptions", there([basis_sheets.assumptions(known[comparison.names[0]])])),
        Leaf("How it was run", [basis_sheets.how_it_was_run(comparison.about)], CAUTIONS),
    ]
    return [leaf for leaf in leaves if leaf.sheets or leaf.words]


def units(currency: str) -> dict[str, str]:
    """Unit of each measure, the currency by its name."""
    return {name: currency if unit == "currency" else unit for name, (unit, _) in MEASURES.items()}


def there(sheets: list[Sheet | None]) -> list[Sheet]:
    """Those that there are."""
    return [sheet for sheet in sheets if sheet is not None]


def _bridge_chart(results: Results) -> Chart:
    title = f"Losses at {results.about['pace_stage']}, the pace stage"
    return Chart(title, [Series(2, None), Series(3, Look(PALE_INDIGO))], "parts/h")


def _states_chart(results: Results) -> Chart:
    columns = run_sheets.states(results).columns
    names = {label(name): name for name in run_sheets.STATES_IN_ORDER}
    series = [Series(at, look(names[column.head])) for at, column in enumerate(columns) if column.head in names]
    return Chart("Time by state", series, "share of planned time")


def _cost_chart(results: Results) -> Chart:
    return Chart("Cost of a good part", [Series(1, PLAIN)], results.about["currency"])


def _output_chart() -> Chart:
    return Chart("Output of each replication", [Series(1, PLAIN)], "good parts/h")
