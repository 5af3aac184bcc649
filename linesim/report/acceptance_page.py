"""Page and workbook of an acceptance test: what a test may give, which mark to agree on, and who passes it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from linesim.report import acceptance_sheets as sheets
from linesim.report.books import PLAIN
from linesim.report.cautions import CAUTIONS
from linesim.report.parts import Page, Section, Tile, Tiles, Words
from linesim.report.pictures import pictures
from linesim.report.sheets import COUNT, FIGURE, PERCENT, Sheet, interval, value
from linesim.report.unlike_sheet import what_differs
from linesim.report.workbook import Chart, Leaf, Series, raw
from linesim.results.acceptance import CAUTION, Acceptance
from linesim.results.labels import percent
from linesim.results.plots.acceptance import ACCEPTANCES

SAYS = {
    "passing": "for each line the share of tests that make a mark, over all marks; the marks of the answer stand out"
}
Contents = Mapping[str, Mapping[str, Any] | None]  # name of a line -> its file as a plain map


def acceptance_page(found: Acceptance, contents: Contents) -> Page:
    """contents: of each line; None where the folder does not hold it."""
    about = found.about
    drawn = pictures([(name, plot, SAYS.get(name, name)) for name, plot in ACCEPTANCES.items()], found)
    sections = [
        Section("answer", "The answer", [Tiles(list(_tiles(found))), Words([*_sentences(found), CAUTION])]),
        Section("outputs", "What a test may give", [sheets.outputs(found), *drawn]),
        Section("marks", "Marks and their risks", _marks(found)),
        Section(
            "basis", "What this rests on", [sheets.how_it_was_run(found), *_differing(found, contents), Words(CAUTIONS)]
        ),
    ]
    below = (
        f"{sheets.tests(found)} tests simulated of each line, seed {about['seed']}, the same random numbers for all; "
        f"each {about['hours']:g} h after {about['warmup_hours']:g} h from empty"
    )
    return Page(f"Acceptance test of {about['hours']:g} h: {about['lines'][0]}", below, sections)


def acceptance_book(found: Acceptance, contents: Contents) -> list[Leaf]:
    chart = Chart("Mean of the tests", [Series(2, PLAIN)], f"good parts in {found.about['hours']:g} h")
    leaves = [
        Leaf("Outputs", [sheets.outputs(found)], chart=chart),
        Leaf("Marks", _marks(found), [CAUTION]),
        Leaf("Tests", [raw("Tests", found.table(), {"good_parts": "parts"})]),
        Leaf("What differs", _differing(found, contents)),
        Leaf("How it was run", [sheets.how_it_was_run(found)], CAUTIONS),
    ]
    return [leaf for leaf in leaves if leaf.sheets]


def _marks(found: Acceptance) -> list[Sheet]:
    given = sheets.passing(found, found.about["mark"]) if found.about["mark"] is not None else None
    return [*([given] if given else []), sheets.risks(found)]


def _differing(found: Acceptance, contents: Contents) -> list[Sheet]:
    names = found.about["lines"]
    told = what_differs(names, contents) if len(names) > 1 else None
    return [told] if told else []


def _tiles(found: Acceptance) -> Iterator[Tile]:
    about = found.about
    first, hours = sheets.outputs(found).rows[0], f"good parts in {about['hours']:g} h"
    yield Tile(
        "mean of the tests", value(first[2], FIGURE), hours, [f"{value(first[3], COUNT)} to {value(first[-1], COUNT)}"]
    )
    highest, sure = found.mark_for(about["risk"])
    yield Tile(f"highest mark for a risk of {percent(about['risk'])}", f"{highest:,}", hours, ["by these tests"])
    yield Tile("mark to be sure of that", "-" if sure is None else f"{sure:,}", hours, ["with 97.5 % confidence"])
    if about["mark"] is not None:
        passes = sheets.passing(found, about["mark"]).rows[0][1]
        number, _, sign = value(passes, PERCENT).partition(" ")
        yield Tile(f"passes the mark of {about['mark']:g}", number, sign, [interval(passes, PERCENT)])


def _sentences(found: Acceptance) -> Iterator[str]:
    about = found.about
    first, *others = about["lines"]
    if about["mark"] is not None:
        for name, passes in sheets.passing(found, about["mark"]).rows:
            yield (
                f"“{name}” passes a mark of {about['mark']:g} good parts in {value(passes, PERCENT)} of tests "
                f"({interval(passes, PERCENT)})."
            )
    highest, sure = found.mark_for(about["risk"])
    sureness = f"{sure} is one to be sure of" if sure is not None else "to be sure of a mark takes more tests"
    yield (
        f"“{first}” fails a mark of {highest} in {percent(about['risk'])} of these tests at most; {sureness}, "
        "with 97.5 % confidence."
    )
    taken = highest if sure is None else sure
    for name, passes in sheets.passing(found, taken).rows:
        if name in others:
            told = f"{value(passes, PERCENT)} of tests ({interval(passes, PERCENT)})"
            yield f"With a mark of {taken} “{name}” passes all the same in {told}."
