"""What `sweep` prints: how much was run, the best points, what each factor does, and what failed."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pandas as pd

from linesim.results.conditions import DEMAND, INVESTMENT
from linesim.results.intervals import Estimate
from linesim.results.labels import aligned, figure, figures, shortened, signed, thousands, with_intervals
from linesim.results.text import CAUTION, WIDTH

if TYPE_CHECKING:
    from linesim.results.sweep import Sweep

OUTPUT, COST = "throughput_per_h", "cost_per_good_part"
BEST, MOST_FAILED, MOST_NAMED = 8, 5, 12


def sweep_text(sweep: Sweep) -> str:
    """How much was run, the best points, main effects, points worth their money, failures."""
    blocks = [_head, _best, _demand, _rounds, _effects, _straight_lines, _front, _failures, _caution]
    return "\n\n".join("\n".join(lines) for lines in ([*block(sweep)] for block in blocks) if lines)


def _head(sweep: Sweep) -> Iterator[str]:
    about, runs = sweep.about, len(sweep.rows)
    yield (
        f"{len(sweep.points)} points, {sweep.replications_told()}, each {about['hours']:g} h after "
        f"{about['warmup_hours']:g} h of warm-up, seed {about['seed']}"
    )
    if runs < about["planned"]:
        yield f"not finished: {runs} of {about['planned']} runs are there, and each figure says what it rests on"
    elif about.get("cut_short"):
        yield f"the budget ended it after round {about['round'] - 1}; more replications were wanted"


def _best(sweep: Sweep) -> Iterator[str]:
    table = sweep.by_point(OUTPUT, COST, "wip_parts").dropna(subset=[OUTPUT])
    if table.empty:
        return
    yield "most good parts an hour (95 % intervals of each point by itself)"
    best = table.sort_values(OUTPUT, ascending=False, kind="stable").head(BEST)
    columns = {
        "  point": [f"  {point}" for point in best["point"]],
        **{factor: [shortened(str(level), 24) for level in best[factor]] for factor in sweep.factors},
        "good parts/h": with_intervals(_estimates(best, OUTPUT, f"{OUTPUT}_low", f"{OUTPUT}_high")),
        "WIP": figures([*best["wip_parts"]]),
        f"{sweep.currency or 'cost'} a part": figures([*best[COST]]),
        thousands(sweep.currency, "invested"): [
            "" if pd.isna(price) else f"{price / 1000:,.0f}" for price in best["investment"]
        ],
    }
    yield from aligned([[*columns], *zip(*columns.values(), strict=True)], heads=1)
    may_be = sweep.may_be_best()
    if may_be is not None:
        points = (
            f"is point {may_be[0]}" if len(may_be) == 1 else f"is one of {len(may_be)}: {', '.join(map(str, may_be))}"
        )
        yield from textwrap.wrap(f"the best {points}, with 95 % confidence", WIDTH, subsequent_indent="  ")


def _demand(sweep: Sweep) -> Iterator[str]:
    """Which points meet the demand, and which of them cost least."""
    if DEMAND not in sweep.points or sweep.points[DEMAND].isna().all():
        return
    meeting = sweep.meeting_demand()
    demands = sorted(set(sweep.points[DEMAND].dropna()))
    wanted = f"{figure(demands[0])} good parts/h" if len(demands) == 1 else "its own demand"
    words = f"demand: {len(meeting)} of {len(sweep.points)} points are shown to make {wanted} (by their own intervals)"
    words += _named([int(point) for point in meeting["point"]]) if len(meeting) else ""
    yield from textwrap.wrap(words, WIDTH, subsequent_indent="  ")
    for measure, name in ((INVESTMENT, "least investment"), (COST, "least mean cost of a good part")):
        if measure in meeting and meeting[measure].notna().any():
            least = meeting.loc[meeting[measure] == meeting[measure].min()]
            told = ", ".join(str(point) for point in least["point"].head(MOST_NAMED))
            money = least[measure].iloc[0]
            yield f"  {name} of these: {told} ({f'{money / 1000:,.0f} k' if measure == INVESTMENT else figure(money)})"


def _rounds(sweep: Sweep) -> Iterator[str]:
    """What precision and indifference have come to."""
    about, rounds = sweep.about, sweep.about["rounds"]
    if rounds["best_by"] is not None and "left_out" in about:
        left = [int(point) for point in sweep.points["point"] if point not in about["left_out"]]
        words = (
            f"{len(left)} of {len(sweep.points)} points may be the best by {rounds['best_by']}{_named(left)}; "
            f"a best one that leads by {rounds['indifference']:g} is among them with 95 % confidence"
        )
        yield from textwrap.wrap(words, WIDTH, subsequent_indent="  ")
    if rounds["precision"] and about.get("imprecise"):
        wide = about["imprecise"]
        yield f"precision not reached at {len(wide)} points{_named(wide)}"


def _named(points: list[int]) -> str:
    return f": {', '.join(map(str, points))}" if len(points) <= MOST_NAMED else ""


def _effects(sweep: Sweep) -> Iterator[str]:
    effects = sweep.main_effects()
    effects = effects.loc[~effects["factor"].isin(sweep.ranges)]
    if effects["less_first"].isna().all():
        return
    yield "good parts/h at each level, the other factors alike, and less the first level (95 % intervals)"
    rows = [
        ["  factor", *effects["factor"].mask(effects["factor"].duplicated(), "").map("  {}".format)],
        ["level", *(shortened(str(level), 24) or "-" for level in effects["level"])],
        ["points", *map(str, effects["points"])],
        ["good parts/h", *figures([*effects["mean"]])],
        ["less the first", *_differences(effects, "less_first")],
        ["", *_shown(effects, "less_first")],
    ]
    yield from aligned([*zip(*rows, strict=True)], heads=1)


def _straight_lines(sweep: Sweep) -> Iterator[str]:
    lines = sweep.straight_lines()
    if lines.empty:
        effects = sweep.main_effects()
        if (effects["points"] > 0).sum() > len(sweep.factors) and effects["less_first"].isna().all():
            yield "these points do not tell apart what each factor does: it takes more of them, or a design"
        return
    yield "good parts/h from the lowest to the highest value, along a straight line (95 % intervals)"
    columns = [
        ["  factor", *lines["factor"].map("  {}".format)],
        ["from", *map(str, lines["lowest"])],
        ["to", *map(str, lines["highest"])],
        ["change", *_differences(lines, "change")],
        ["", *_shown(lines, "change")],
    ]
    yield from aligned([*zip(*columns, strict=True)], heads=1)


def _differences(table: pd.DataFrame, mean: str) -> list[str]:
    """Differences with their intervals."""
    return ["" if told == "-" else told for told in with_intervals(_estimates(table, mean, "low", "high"), signed)]


def _shown(table: pd.DataFrame, mean: str) -> list[str]:
    same = table[mean].notna() & (table["low"] <= 0) & (table["high"] >= 0)
    return ["no difference shown" if each else "" for each in same]


def _estimates(table: pd.DataFrame, *columns: str) -> list[Estimate]:
    """Mean, low and high as estimates."""
    return [Estimate(mean, low, high, 0) for mean, low, high in table[[*columns]].itertuples(index=False)]


def _front(sweep: Sweep) -> Iterator[str]:
    front = sweep.not_dominated()
    if len(front) < 2:
        return
    yield "no other point makes more for less investment (by the means):"
    told = zip(front["point"], front["investment"], figures([*front[OUTPUT]]), strict=True)
    points = [f"{point} ({price / 1000:,.0f} k: {made}/h)" for point, price, made in told]
    yield from textwrap.wrap(", ".join(points), WIDTH, initial_indent="  ", subsequent_indent="  ")


def _failures(sweep: Sweep) -> Iterator[str]:
    failed = sweep.failed
    if failed.empty:
        return
    runs, points = len(failed), failed["point"].nunique()
    told = f"{runs} run{'s' * (runs != 1)} of {points} point{'s' * (points != 1)}"
    yield f"{told} failed; the table `failed` has all of them"
    for row in _records(failed.drop_duplicates("point").head(MOST_FAILED)):
        text = f"point {row['point']}, replication {row['replication']}: {row['error']}"
        yield from textwrap.wrap(text, WIDTH, initial_indent="  ", subsequent_indent="    ")


def _caution(_: Sweep) -> Iterator[str]:
    yield from textwrap.wrap(CAUTION, WIDTH)


def _records(table: pd.DataFrame) -> list[dict[str, float]]:
    return table.to_dict("records")  # type: ignore[return-value]
