"""The page of a comparison: which line is best and how surely, what sets the lines apart, what each step buys."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from linesim.line.model import Line
from linesim.report import basis_sheets, compare_sheets, validity
from linesim.report.answer import SCOPE
from linesim.report.cautions import CAUTIONS
from linesim.report.compare_sheets import COST, OUTPUT, Lines
from linesim.report.draw_plan import plan_picture
from linesim.report.parts import Page, Part, Section, Tile, Tiles, Words
from linesim.report.pictures import pictures
from linesim.report.sheets import FIGURE, TEXT, Cell, Column, Sheet, interval, value
from linesim.report.unlike_sheet import what_differs
from linesim.results import Comparison
from linesim.results.definitions import MEASURES
from linesim.results.demand import MET
from linesim.results.intervals import Estimate
from linesim.results.labels import NAMED_MEASURES, mean_and_interval, signed

SAYS = {
    "output": "output of each line with its interval, and its difference from the base",
    "investment": "output of each line against its investment",
}
BEST_BY = {OUTPUT: "makes the most", COST: "has the least cost of a good part"}


def compare_page(comparison: Comparison, known: Lines, contents: Mapping[str, Mapping[str, Any] | None]) -> Page:
    """known: the lines as they were run, contents: the maps of their files; None where a folder holds none."""
    from linesim.results.plots.compared import COMPARED

    about, names = comparison.about, comparison.names
    counts = sorted({len(each.about["replications"]) for each in comparison.results.values()})
    count = f"{counts[0]} to {counts[-1]}" if len(counts) > 1 else str(counts[0])
    below = (
        f"{count} replication{'s' * (counts[-1] > 1)} each of {about['hours']:g} h after {about['warmup_hours']:g} h "
        f"of warm-up, seed {about['seed']}, the same random numbers for all; the first line is the base"
    )
    plots = pictures([(name, plot, SAYS[name]) for name, plot in COMPARED.items()], comparison)
    different = what_differs(names, contents)
    sides: list[Part] = [compare_sheets.lines(comparison), *([different] if different else []), *plots]
    money = [compare_sheets.steps(comparison), compare_sheets.paying(comparison, known)]
    broken_even = compare_sheets.break_even(comparison, known)
    worth: list[Part] = [*(sheet for sheet in money if sheet), *([Words(broken_even)] if broken_even else [])]
    base = known[names[0]]
    sections = [
        Section("answer", "The answer", [Tiles(_tiles(comparison)), Words(list(_sentences(comparison)))]),
        Section("lines", "The lines", sides),
        Section("differences", "Differences from the base", [compare_sheets.differences(comparison)]),
        Section("money", "What it costs and what it buys", worth),
        Section("losses", "Where output is lost", [compare_sheets.losses(comparison)]),
        Section("plan", f"The base: {names[0]}", [plan_picture(base)] if base else []),
        _basis(comparison, base),
    ]
    title = f"{about['name']}: {len(names)} lines side by side"
    return Page(title, below, [section for section in sections if section.parts])


def _tiles(comparison: Comparison) -> list[Tile]:
    """The output of each line beside the demand; the tables have the rest."""
    told = []
    for name, each in comparison.results.items():
        made = each.estimate(OUTPUT)
        between = interval(made, FIGURE) or "no interval"
        verdict = each.demand_verdict()
        told.append(
            Tile(name, value(made, FIGURE), "good parts/h", [between, *([f"demand: {verdict}"] if verdict else [])])
        )
    return told


def _sentences(comparison: Comparison) -> Iterator[str]:
    chosen = comparison.selection
    if chosen:
        yield _chosen(chosen)
    for measure, words in BEST_BY.items():
        if chosen and chosen["measure"] == measure:
            continue  # told by a procedure that may look again and again
        standing = comparison.standing(measure)
        if standing["high"].isna().all():
            continue
        may_be = list(standing.loc[standing["may_be_best"], "line"])
        if len(may_be) == 1:
            yield f"{may_be[0]} {words}, with 95 % confidence."
        else:
            yield f"Which line {words} is not shown; it is one of {', '.join(may_be)}, with 95 % confidence."
    yield from _demand(comparison)
    for row in comparison.differences(OUTPUT).to_dict("records"):
        if row["replications"] > 1:
            found = Estimate(row["mean"], row["low"], row["high"], row["replications"])
            ((more, between),) = mean_and_interval([found], signed)
            yield f"{row['line']}: {more} good parts/h beside the base {between}: {row['shown']}."
    yield SCOPE


def _chosen(found: Mapping[str, Any]) -> str:
    """What came of choosing the best with as few replications as it takes."""
    left, unit = ", ".join(found["left"]), MEASURES[found["measure"]].unit
    leads = f"with 95 % confidence, if the best leads by {found['indifference']:g} {unit} or more"
    name = NAMED_MEASURES[found["measure"]]
    if found["decided"]:
        return f"The best by {name} is {left}, {leads}."
    most = found["most_replications"]
    return f"Not decided with {most} replications: the best by {name} is one of {left}, {leads}."


def _demand(comparison: Comparison) -> Iterator[str]:
    if all(each.about["demand_per_h"] is None for each in comparison.results.values()):
        return
    meeting = [name for name, each in comparison.results.items() if each.demand_verdict() == MET]
    if not meeting:
        yield "No line is shown to meet the demand."
        return
    yield f"Demand is shown to be met by {', '.join(meeting)}."
    priced = {name: price for name, price in comparison.investments().items() if name in meeting and price}
    if len(priced) > 1:
        yield f"Of these {min(priced, key=lambda name: priced[name])} needs the least investment."


def _basis(comparison: Comparison, base: Line | None) -> Section:
    parts: list[Part] = []
    noted = basis_sheets.assumptions(base)
    parts += [noted] if noted else []
    parts.append(basis_sheets.how_it_was_run(comparison.about))
    rows: list[list[Cell]] = []
    for name, each in comparison.results.items():
        failed = [check.what for check in validity.checks(each) if check.holds is False]
        held = sum(check.holds is True for check in validity.checks(each))
        rows.append([name, f"{held} checks hold", "; ".join(failed) or "none"])
    heads = ("line", "books", "do not hold")
    parts.append(Sheet("Validity checks", [Column(head, form=TEXT) for head in heads], rows))
    parts.append(Words(["The page of each line by itself: linesim report with its folder under lines/."]))
    parts.append(Words(CAUTIONS))
    return Section("basis", "What this rests on", parts)
