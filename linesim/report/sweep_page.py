"""The page of a sweep: the best points and how surely, what each factor does, output against investment."""

from __future__ import annotations

from collections.abc import Iterator

from linesim.report import sweep_sheets
from linesim.report.answer import SCOPE
from linesim.report.books import there
from linesim.report.cautions import CAUTIONS
from linesim.report.parts import Page, Part, Section, Tile, Tiles, Words
from linesim.report.pictures import pictures
from linesim.report.sheets import FIGURE, interval, value
from linesim.report.workbook import Leaf
from linesim.results.intervals import Estimate
from linesim.results.plots.swept import SWEPT
from linesim.results.sweep import Sweep

SAYS = {
    "effects": "output at each level of each factor",
    "two_factors": "a map of output over the levels of two factors",
    "investment": "output against investment, a mark a point; those that no other beats are joined",
    "best_points": "the best points as lines across the factors",
}
MOST_NAMED, MOST_FACTORS = 12, 6


def sweep_page(sweep: Sweep) -> Page:
    """Also of a sweep that is not finished: it tells what is there."""
    about = sweep.about
    drawn = {name: [*pictures([(name, plot, SAYS.get(name, name))], sweep)] for name, plot in SWEPT.items()}
    factors: list[Part] = [*drawn["effects"], sweep_sheets.effects(sweep), *drawn["two_factors"]]
    sections = [
        Section("answer", "The answer", [Tiles(list(_tiles(sweep))), Words(list(_sentences(sweep)))]),
        Section("factors", "What each factor does", factors),
        Section("money", "Output against investment", drawn["investment"]),
        Section("points", "The points", [*drawn["best_points"], sweep_sheets.points(sweep)]),
        Section("failed", "Runs that failed", there([sweep_sheets.failed(sweep)])),
        Section("basis", "What this rests on", [sweep_sheets.how_it_was_run(sweep), Words(CAUTIONS)]),
    ]
    below = (
        f"{len(sweep.points)} points, {sweep.replications_told()} of {about['hours']:g} h after "
        f"{about['warmup_hours']:g} h of warm-up, seed {about['seed']}, the same random numbers for all"
    )
    return Page(
        f"Sweep over {', '.join(sweep.factors) or 'no factor'}",
        below,
        [section for section in sections if section.parts],
    )


def sweep_book(sweep: Sweep) -> list[Leaf]:
    leaves = [
        Leaf("Points", [sweep_sheets.points(sweep, most=None)]),
        Leaf("Factors", [sweep_sheets.effects(sweep)]),
        Leaf("Failed", there([sweep_sheets.failed(sweep)])),
        Leaf("How it was run", [sweep_sheets.how_it_was_run(sweep)], CAUTIONS),
    ]
    return [leaf for leaf in leaves if leaf.sheets]


def _tiles(sweep: Sweep) -> Iterator[Tile]:
    table = sweep_sheets.points(sweep, most=None)
    for what, row in (("most output", table.rows[0]), ("least", table.rows[-1])) if table.rows else ():
        output = next(cell for cell in row if isinstance(cell, Estimate))
        between = interval(output, FIGURE) or "no interval"
        yield Tile(what, value(output, FIGURE), "good parts/h", [between, f"point {row[0]}", *_levels(sweep, row[0])])
    yield Tile("points", f"{len(sweep.points):,}", "", [f"{len(sweep.rows):,} runs"])


def _levels(sweep: Sweep, point: object) -> list[str]:
    """What the point is, a line a factor, where there are few."""
    (row,) = sweep.points[sweep.points["point"] == point].to_dict("records")
    told = [f"{factor}: {row[factor]}" for factor in sweep.factors if row[factor]]
    return told if len(told) <= MOST_FACTORS else []


def _sentences(sweep: Sweep) -> Iterator[str]:
    about, planned = sweep.about, sweep.about["planned"]
    if len(sweep.rows) < planned:
        yield f"Not finished: {len(sweep.rows)} of {planned} runs are there, and each figure says what it rests on."
    may_be = sweep.may_be_best()
    if may_be is None:
        yield "Which point makes the most is not told: it takes two replications of each, and not too many points."
    elif len(may_be) == 1:
        yield f"Point {may_be[0]} makes the most, with 95 % confidence."
    else:
        named = f": {', '.join(map(str, may_be))}" if len(may_be) <= MOST_NAMED else ""
        yield f"The point that makes the most is one of {len(may_be)}, with 95 % confidence{named}."
    effects = sweep_sheets.effects(sweep)
    if effects.rows:
        yield f"{effects.rows[0][0]} moves the output most, over the levels that were tried."
    front = sweep.not_dominated()
    if len(front) > 1:
        names = ", ".join(str(point) for point in front["point"].head(MOST_NAMED))
        yield f"No other point makes more for less investment than points {names} (by their means), the cheapest first."
    if about.get("imprecise"):
        yield f"The precision that was wanted is not reached at {len(about['imprecise'])} points."
    yield SCOPE
