"""The tables of an acceptance test: what tests give, who passes a mark, which mark a risk allows."""

from __future__ import annotations

from linesim.report.sheets import COUNT, FIGURE, PERCENT, TEXT, Cell, Column, Sheet
from linesim.results.acceptance import Acceptance
from linesim.results.intervals import Estimate
from linesim.results.labels import percent

RISKS = (0.01, 0.02, 0.05, 0.1, 0.2)


def tests(found: Acceptance) -> int:
    """How many were simulated of each line."""
    return len(found.of(found.about["lines"][0]))


def outputs(found: Acceptance) -> Sheet:
    """A row a line: what its tests gave."""
    heads = ["mean", "least", "5 % below", "25 % below", "half below", "75 % below", "95 % below", "most"]
    columns = [
        Column("line", form=TEXT),
        Column("tests", form=COUNT),
        Column(heads[0], "good parts", FIGURE),
        *(Column(head, "good parts", COUNT) for head in heads[1:]),
    ]
    rows: list[list[Cell]] = [list(row) for row in found.distribution().itertuples(index=False)]
    return Sheet(f"Good parts in a test of {found.about['hours']:g} h", columns, rows)


def passing(found: Acceptance, mark: float) -> Sheet:
    """A row a line: the share of its tests that make a mark."""
    rows: list[list[Cell]] = [[name, share] for name, share in _passing(found, mark).items()]
    columns = [Column("line", form=TEXT), Column("tests that pass", form=PERCENT)]
    note = "With 95 % bounds for so many independent tests (binomial)."
    return Sheet(f"A mark of {mark:g} good parts", columns, rows, note)


def risks(found: Acceptance) -> Sheet:
    """A row a risk of the promised line: its mark, and how often the other lines pass that."""
    first, *others = found.about["lines"]
    rows: list[list[Cell]] = []
    for risk in sorted({*RISKS, found.about["risk"]}):
        highest, sure = found.mark_for(risk)
        shares = _passing(found, highest if sure is None else sure)
        rows.append([percent(risk), highest, sure, *(shares[name] for name in others)])
    columns = [
        Column(f"{first} fails at most in", form=TEXT),
        Column("highest mark", "good parts", COUNT),
        Column("to be sure of it", "good parts", COUNT),
        *(Column(f"{name} passes", form=PERCENT) for name in others),
    ]
    note = 'The highest mark is that by these tests; the other one holds with 97.5 % confidence, "-" takes more tests.'
    if others:
        note += " The other lines pass the mark to be sure of, or the highest where there is none, with 95 % bounds."
    return Sheet("Which mark a risk allows", columns, rows, note)


def how_it_was_run(found: Acceptance) -> Sheet:
    about = found.about
    rows: list[list[Cell]] = [
        ["tests of each line", str(tests(found))],
        ["length of a test", f"{about['hours']:g} h"],
        ["before it", f"{about['warmup_hours']:g} h from an empty line"],
        ["seed", str(about["seed"])],
        ["random numbers", "independent from test to test; the same for all lines, test by test"],
    ]
    return Sheet("How it was run", [Column("what", form=TEXT), Column("value", form=TEXT)], rows)


def _passing(found: Acceptance, mark: float) -> dict[str, Estimate]:
    count = tests(found)
    return {
        row["line"]: Estimate(row["passes"], row["low"], row["high"], count)
        for row in found.passing(mark).to_dict("records")
    }
