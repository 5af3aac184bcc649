"""The page of a sensitivity study: what improvements are worth, and what the assumptions can do."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from linesim.report import basis_sheets
from linesim.report.cautions import CAUTIONS
from linesim.report.parts import Page, Section, Tile, Tiles, Words
from linesim.report.pictures import pictures
from linesim.report.sheets import CHANGE, FIGURE, TEXT, Cell, Column, Sheet, interval, value
from linesim.report.workbook import Leaf
from linesim.results import Sensitivity
from linesim.results.differences import NOT_SHOWN
from linesim.results.intervals import Estimate
from linesim.results.plots.sensitivity import SENSITIVITIES

SAYS = {
    "worth": "a bar for each improvement: what it is worth",
    "tornado": "for each assumption a bar to either end of its range",
}
BY_ITSELF = (
    "Each is told by itself: together they may bring more or less than their sum, and what is worth nothing now "
)
BY_ITSELF += "may be worth much after another change."


def sensitivity_page(found: Sensitivity) -> Page:
    about = found.about
    drawn = {name: pictures([(name, plot, SAYS.get(name, name))], found) for name, plot in SENSITIVITIES.items()}
    as_it_is = found.output()
    tile = Tile(
        "output as it is", value(as_it_is, FIGURE), "good parts/h", [interval(as_it_is, FIGURE) or "no interval"]
    )
    improvements, ends = worth(found), tornado(found)
    sections = [
        Section("answer", "The answer", [Tiles([tile]), Words([*_sentences(found), BY_ITSELF])]),
        Section("worth", "What improvements are worth", [*drawn["worth"], improvements] if improvements.rows else []),
        Section("tornado", "What the assumptions can do", [*drawn["tornado"], ends] if ends.rows else []),
        Section("basis", "What this rests on", [basis_sheets.how_it_was_run(about), Words(CAUTIONS)]),
    ]
    count = len(about["replications"])
    below = (
        f"{count} replication{'s' * (count > 1)} each of {about['hours']:g} h after {about['warmup_hours']:g} h of "
        f"warm-up, seed {about['seed']}, the same random numbers for all"
    )
    return Page(f"{about['name']}: what matters", below, [section for section in sections if section.parts])


def sensitivity_book(found: Sensitivity) -> list[Leaf]:
    leaves = [
        Leaf("Improvements", [worth(found)], [BY_ITSELF]),
        Leaf("Assumptions", [tornado(found)], [BY_ITSELF]),
        Leaf("How it was run", [basis_sheets.how_it_was_run(found.about)], CAUTIONS),
    ]
    return [leaf for leaf in leaves if leaf.sheets[0].rows]


def worth(found: Sensitivity) -> Sheet:
    """What each improvement is worth, the greatest first."""
    words = found.about["words"]
    rows: list[list[Cell]] = [
        [words[row["lever"]], _estimate(row), row["unit"], row["shown"]] for row in _records(found.worth())
    ]
    columns = [
        Column("improvement", form=TEXT),
        Column("worth", "good parts/h", CHANGE),
        Column("for", form=TEXT),
        Column("shown", form=TEXT),
    ]
    note = f"By a step of {found.about['step_percent']:g} %, told for 1 %. The intervals hold together at 95 %."
    return Sheet("What improvements are worth", columns, rows, note)


def tornado(found: Sensitivity) -> Sheet:
    """How far each assumption moves the output at either end of its range, the widest first."""
    rows: list[list[Cell]] = [
        [row["assumption"], row["at"], _estimate(row), row["shown"]] for row in _records(found.tornado())
    ]
    columns = [
        Column("assumption", form=TEXT),
        Column("at", form=TEXT),
        Column("change of output", "good parts/h", CHANGE),
        Column("shown", form=TEXT),
    ]
    return Sheet("Assumptions at the ends of their ranges", columns, rows, "The intervals hold together at 95 %.")


def _sentences(found: Sensitivity) -> Iterator[str]:
    shown = [row for row in _records(found.worth()) if row["shown"] != NOT_SHOWN]
    if shown:
        best = shown[0]
        yield (
            f"“{found.about['words'][best['lever']]}” is worth the most of what is shown: "
            f"{value(_estimate(best), CHANGE)} good parts/h for {best['unit']}."
        )
    else:
        yield "No single improvement is shown to bring anything."
    moved = [row for row in _records(found.tornado()) if row["shown"] != NOT_SHOWN]
    if moved:
        first = moved[0]
        yield (
            f"The assumption that matters most is {first['assumption']}: at {first['at']} the output changes by "
            f"{value(_estimate(first), CHANGE)} good parts/h. Find out its true value before you decide."
        )
    elif not found.tornado().empty:
        yield "No assumption is shown to move the output, even at the ends of its range."


def _estimate(row: Any) -> Estimate:
    return Estimate(row["mean"], row["low"], row["high"], int(row["replications"]))


def _records(table: Any) -> list[dict[str, Any]]:
    return list(table.to_dict("records"))
