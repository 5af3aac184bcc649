"""The page of a run: the answer first, then the line, where output is lost, and what the figures rest on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from linesim.line.model import Line
from linesim.report import basis_sheets, quality_sheets, run_sheets, validity
from linesim.report.answer import sentences, tiles
from linesim.report.cautions import CAUTIONS
from linesim.report.draw_plan import plan_picture
from linesim.report.parts import Page, Part, Picture, Section, Tiles, Words
from linesim.report.pictures import pictures
from linesim.report.sheets import Sheet
from linesim.results import Results
from linesim.results.plots import PLOTS

# Plot -> what is to be seen in it, for who cannot see it; the figures stand in tables as well. Plots that are not named
# here come in a section of their own.
SAYS = {
    "throughput": "output by window over time, with its mean and the demand",
    "states": "a bar for each machine: share of planned time in each state",
    "losses": "a bridge from what the pace stage could make down to the good parts, a bar a loss",
    "oee": "parts of OEE for each station",
    "wip": "parts on the line over time",
    "wip_distribution": "share of time with so many parts on the line",
    "buffers": "share of time that each buffer is empty, between and full, and its mean level",
    "lead_time": "share of good parts by lead time, with mean and quantiles",
    "loaders": "a bar for each carriage: share of planned time in each state",
    "bottleneck": "share of time that each machine, carriage and crew was the bottleneck",
    "costs": "the rows of the cost of a good part",
    "warm_up": "output and WIP of the pilot run that found the warm-up",
}


def run_page(results: Results, line: Line | None, replay: Part | None = None) -> Page:
    """line: as it was run, None if the folder does not hold it."""
    about = results.about
    count = len(about["replications"])
    means = "means with 95 % intervals" if count > 1 else "one replication has no interval"
    below = (
        f"{count} replication{'s' * (count > 1)} of {about['hours']:g} h after {about['warmup_hours']:g} h of warm-up, "
        f"seed {about['seed']}; {means}"
    )
    sections = [*_sections(results, line, replay), _basis(results, line)]
    return Page(about["name"], below, [section for section in sections if section.parts])


def _sections(results: Results, line: Line | None, replay: Part | None) -> Iterator[Section]:
    yield Section("answer", "The answer", [Tiles(tiles(results)), Words(sentences(results, line))])
    if line is not None:
        yield Section("line", "The line", [plan_picture(line)])
    yield _section("stations", "Stations", results, ["oee"], [run_sheets.stations(results, line)])
    yield _section("losses", "Where output is lost", results, ["losses", "states", "bottleneck"], [])
    loaders = [run_sheets.loaders(results), run_sheets.crews(results), run_sheets.stoppages(results)]
    yield _section("loaders", "Loaders, people and stops", results, ["loaders"], loaders)
    stock = [run_sheets.buffers(results), run_sheets.ends(results)]
    yield _section("stock", "Parts on the line", results, ["wip_distribution", "wip", "buffers"], stock)
    times = [run_sheets.outlook(results), run_sheets.parts(results)]
    yield _section("times", "Output and lead time", results, ["throughput", "lead_time"], times)
    found = [quality_sheets.quality(results), quality_sheets.rejects(results), quality_sheets.chutes(results)]
    found += [quality_sheets.drawers(results), quality_sheets.characteristics(results)]
    yield _section("quality", "Quality", results, [], found)
    yield _section(
        "money", "Money", results, ["costs"], [run_sheets.costs(results), run_sheets.investment(results, line)]
    )
    yield _section("further", "Further plots", results, [name for name in PLOTS if name not in SAYS], [])
    if replay is not None:
        yield Section("replay", "Replay", [replay])


def _section(
    anchor: str, title: str, results: Results, plots: Sequence[str], sheets: Sequence[Sheet | None]
) -> Section:
    """What is told in tables comes first, then the plots."""
    return Section(anchor, title, [*(sheet for sheet in sheets if sheet is not None), *_pictures(results, plots)])


def _pictures(results: Results, names: Sequence[str]) -> list[Picture]:
    return pictures([(name, PLOTS[name], SAYS.get(name, name)) for name in names], results)


def _basis(results: Results, line: Line | None) -> Section:
    """What the figures rest on."""
    parts: list[Part] = []
    noted = basis_sheets.assumptions(line)
    parts += [noted] if noted else [Words(["No assumptions are noted in the file of the line."])]
    parts += [basis_sheets.how_it_was_run(results.about)]
    parts += _pictures(results, ["warm_up"])
    parts += [Words([f"The same again: {_again(results)}"])]
    parts += [validity.sheet(validity.checks(results)), basis_sheets.measures(results), Words(CAUTIONS)]
    return Section("basis", "What this rests on", parts)


def _again(results: Results) -> str:
    """The command that gives the same results."""
    about = results.about
    numbers = about["replications"]
    which = f"replications={len(numbers)}" if numbers[0] == 1 else f"only_replication={numbers[0]}"
    times = f"hours={about['hours']:.15g} warmup_hours={about['warmup_hours']:.15g} window_h={about['window_h']:.15g}"
    return f"linesim run line.yaml {times} {which} seed={about['seed']}"
