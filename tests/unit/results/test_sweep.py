"""What a sweep can be asked, on rows written by hand, and how its folder keeps them."""

from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from linesim.results import sweep_store
from linesim.results.definitions import MEASURES
from linesim.results.intervals import estimate
from linesim.results.labels import shown_in
from linesim.results.past_text import answer
from linesim.results.plots.swept import SWEPT
from linesim.results.sweep import Sweep, open_sweep

ROUNDS = {"first": 2, "most": 2, "precision": [], "best_by": None, "indifference": 0.0}
ABOUT = {"design": "grid", "seed": 1, "rounds": ROUNDS, "planned": 8, "hours": 10, "warmup_hours": 1}
OUTPUT = {1: (20.0, 22.0), 2: (24.0, 26.0), 3: (21.0, 23.0), 4: (30.0, 31.0)}


def rows() -> list[dict[str, object]]:
    return [
        {"point": point, "replication": number, "error": None, **dict.fromkeys(MEASURES, 1.0), "throughput_per_h": made}
        for point, both in OUTPUT.items()
        for number, made in enumerate(both, 1)
    ]


def points() -> pd.DataFrame:
    return pd.DataFrame(
        {
            "point": [1, 2, 3, 4],
            "change": ["none", "none", "fast", "fast"],
            "park.capacity": ["1", "4", "1", "4"],
            "investment": [100e3, 110e3, 120e3, 150e3],
            "demand_per_h": [10.0, 14.0, 25.0, 25.0],
        }
    )


def sweep(given: list[dict[str, object]] | None = None) -> Sweep:
    table = pd.DataFrame(rows() if given is None else given)
    return Sweep(ABOUT, points(), table.astype({"error": "string"}))


def test_every_point_has_the_interval_of_its_own_replications() -> None:
    wide = sweep().by_point("throughput_per_h")
    for point, both in OUTPUT.items():
        found = wide.loc[wide["point"] == point].iloc[0]
        told = [found["throughput_per_h"], found["throughput_per_h_low"], found["throughput_per_h_high"]]
        assert told == pytest.approx(estimate(both)[:3], rel=1e-12)
    tidy = sweep().summary(["throughput_per_h"])
    assert list(tidy.columns[-6:]) == ["measure", "unit", "mean", "low", "high", "replications"]
    assert tidy["mean"].tolist() == [21, 25, 22, 30.5]


def test_the_points_that_meet_the_demand_and_the_cheapest_of_them_are_told() -> None:
    """Each value twice: t is 3.182, sd 1.155 or 0.577, so the lows are 19.2, 23.2, 20.2 and 29.6."""
    tamer = sweep([*rows(), *({**row, "replication": row["replication"] + 2} for row in rows())])  # type: ignore[operator]
    assert tamer.meeting_demand()["point"].tolist() == [1, 2, 4]
    text = tamer.text_summary()
    assert "3 of 4 points are shown to make its own demand (by their own intervals): 1, 2, 4" in text
    assert "least investment of these: 1 (100 k)" in text
    assert tamer.best("investment", where="throughput_per_h_low >= demand_per_h")["point"].tolist() == [1, 2, 4]
    assert "0 of 4 points are shown" in sweep().text_summary()


def test_a_measure_that_is_cut_short_is_told_with_the_nearest() -> None:
    with pytest.raises(ValueError, match="Did you mean cost_per_good_part"):
        sweep().best("cost")


def test_the_best_points_under_a_condition() -> None:
    asked = sweep()
    assert asked.best(count=2)["point"].tolist() == [4, 2]
    assert asked.best(where="investment < 115e3")["point"].tolist() == [2, 1]
    assert asked.best(where="`park.capacity` == 1")["point"].tolist() == [3, 1]
    assert asked.best("investment", 1)["point"].tolist() == [1]
    with pytest.raises(ValueError, match="can't be read"):
        asked.best(where="investmen < 3")
    with pytest.raises(ValueError, match=r"can't be read: invalid[^(]*\. It may use"):
        asked.best(where="investment < 3m")
    with pytest.raises(ValueError, match="is no measure"):
        asked.best("speed")


def test_main_effects_compare_levels_replication_by_replication() -> None:
    """By hand: change none has means (22, 24), fast (25.5, 27): 3.5 and 3 more."""
    effects = sweep().main_effects()
    first, second, *_ = effects.to_dict("records")
    assert (first["level"], second["level"], second["mean"]) == ("none", "fast", pytest.approx(26.25))
    assert [second["less_first"], second["low"], second["high"]] == pytest.approx(estimate([3.5, 3.0])[:3])
    assert np.isnan(first["less_first"])
    assert effects["points"].tolist() == [2, 2, 2, 2]


def test_points_that_cost_more_and_make_less_are_dominated() -> None:
    assert sweep().not_dominated()["point"].tolist() == [1, 2, 4]


def test_failed_runs_are_told_and_left_out_of_the_figures() -> None:
    broken = rows()
    broken[1] = {**broken[1], **dict.fromkeys(MEASURES, np.nan), "error": "LockUp: parts are inside"}
    asked = sweep(broken)
    assert asked.failed[["point", "replication", "change"]].to_numpy().tolist() == [[1, 2, "none"]]
    assert asked.by_point("throughput_per_h")["replications"].tolist() == [1, 2, 2, 2]
    assert "point 1, replication 2: LockUp: parts are inside" in asked.text_summary()


def test_the_text_says_what_was_run_and_plots_can_be_drawn() -> None:
    text = sweep().text_summary()
    assert "4 points, 2 replications, each 10 h after 1 h of warm-up, seed 1" in text
    assert max(map(len, text.splitlines())) <= 100
    assert all(plot(sweep()) is not None for plot in SWEPT.values())


def test_kept_rows_come_back_whatever_way_they_were_cut(tmp_path: Path) -> None:
    sweep_store.begin(tmp_path, ABOUT, points(), [])
    all_rows = rows()
    for part in (all_rows[5:], all_rows[:3], all_rows[2:5]):  # one of them twice
        sweep_store.keep(tmp_path, part)
    before = sweep_store.rows_of(tmp_path)
    assert len(before) == len(all_rows)
    sweep_store.put_together(tmp_path)
    assert len(list((tmp_path / "rows").iterdir())) == 1
    pd.testing.assert_frame_equal(sweep_store.rows_of(tmp_path), before)
    assert open_sweep(tmp_path).table()["throughput_per_h"].tolist() == [row["throughput_per_h"] for row in all_rows]


@pytest.mark.parametrize(
    ("lines", "currency"),
    [
        (["name: a\nmoney: {currency: CHF}\n", "money: {currency: CHF, life: 8 years}\n"], "CHF"),
        (["money: {life: 8 years}\n"], "EUR"),  # the default of a line with money
        (["name: a\n", "money:\n"], ""),  # none has money
        (["money: {currency: CHF}\n", "money: {currency: SEK}\n"], ""),  # they do not agree
    ],
)
def test_a_sweep_knows_the_currency_of_its_lines(tmp_path: Path, lines: list[str], currency: str) -> None:
    sweep_store.begin(tmp_path, ABOUT, points(), lines)
    sweep_store.keep(tmp_path, rows())
    opened = open_sweep(tmp_path)
    assert opened.currency == currency
    head = next(line for line in opened.text_summary().splitlines() if line.startswith("  point"))
    assert head.split("WIP")[1].split() == ([currency, "a", "part", "k", currency, "invested"] if currency else
                                            ["cost", "a", "part", "k", "invested"])  # fmt: skip
    told = answer(tmp_path, {"by": "cost_per_good_part"}).splitlines()[0]
    assert ("cost of a good part [CHF]" in told) == (currency == "CHF")
    assert "currency" not in told
    assert told.endswith(f"k {currency} invested" if currency else "  k invested")


def test_what_was_asked_is_headed_in_words_with_units() -> None:
    assert shown_in("lead_time_mean_s", 1250.0, "") == (60.0, "min")
    assert shown_in("line_oee", 0.6, "") == (0.01, "%")
    assert shown_in("cost_per_good_part", 9.0, "CHF") == (1.0, "CHF")
    assert shown_in("throughput_per_h", 24.0, "CHF") == (1.0, "parts/h")


def test_results_in_several_currencies_are_told_each_in_its_own(tmp_path: Path) -> None:
    for name, currency in (("one", "CHF"), ("other", "SEK")):
        (tmp_path / name).mkdir()
        sweep_store.begin(tmp_path / name, ABOUT, points(), [f"money: {{currency: {currency}}}\n"])
        sweep_store.keep(tmp_path / name, rows())
    head, *told = answer(tmp_path, {"by": "cost_per_good_part", "count": "8"}).splitlines()
    assert "CHF" not in head
    assert sorted(line.split()[-1] for line in told) == ["CHF"] * 4 + ["SEK"] * 4


def test_files_are_shown_by_short_names_and_kept_as_they_were_asked_for(tmp_path: Path) -> None:
    asked = points().assign(change=["none", "a/fast.yaml", "b/fast.yaml", "my/slow.yaml + b/fast.yaml"])
    sweep_store.begin(tmp_path, ABOUT, asked, [])
    sweep_store.keep(tmp_path, rows())
    opened = open_sweep(tmp_path)
    shown = ["none", "a/fast", "b/fast", "slow + b/fast"]
    assert opened.points["change"].tolist() == opened.main_effects()["level"].tolist()[:4] == shown
    assert ".yaml" not in opened.text_summary() + answer(tmp_path, {})
    assert sweep_store.points_of(tmp_path)["change"].tolist() == asked["change"].tolist()


def test_a_half_written_file_is_no_result_and_is_swept_up(tmp_path: Path) -> None:
    sweep_store.begin(tmp_path, ABOUT, points(), [])
    sweep_store.keep(tmp_path, rows()[:3])
    stray = tmp_path / "rows" / ".abc.parquet.part"
    stray.write_bytes(b"PAR1 half")
    assert len(sweep_store.rows_of(tmp_path)) == 3
    sweep_store.sweep_up(tmp_path)
    assert not stray.exists()
    assert len(sweep_store.rows_of(tmp_path)) == 3


def test_a_factor_with_a_value_at_each_point_is_told_along_a_straight_line() -> None:
    """By hand: output = 10 + 2 x cycle - 3 x share in replication 1, one more per s of cycle in replication 2."""
    cycles, shares = [40, 41, 43, 44, 46], [1, 5, 2, 4, 3]
    table = pd.DataFrame(
        [
            {
                "point": point,
                "replication": replication,
                "error": None,
                **dict.fromkeys(MEASURES, 1.0),
                "throughput_per_h": 10 + (1 + replication) * cycle - 3 * share,
            }
            for point, (cycle, share) in enumerate(zip(cycles, shares, strict=True), 1)
            for replication in (1, 2)
        ]
    )
    named = {"cycle": [f"{value} s" for value in cycles], "share": [f"{value} %" for value in shares]}
    given = pd.DataFrame({"point": range(1, 6), **named, "change": ["none"] * 5, "investment": [np.nan] * 5})
    asked = Sweep(ABOUT, given, table.astype({"error": "string"}))
    assert asked.ranges == ["cycle", "share"]
    cycle, share = asked.straight_lines().to_dict("records")
    assert (cycle["lowest"], cycle["highest"], cycle["change"]) == ("40 s", "46 s", pytest.approx(6 * 2.5))
    assert [cycle["low"], cycle["high"]] == pytest.approx(estimate([12.0, 18.0])[1:3])
    assert share["change"] == pytest.approx(-12)
    assert "from the lowest to the highest value" in asked.text_summary()


def test_points_that_do_not_tell_factors_apart_are_drawn_one_by_one_and_said_to_be_so() -> None:
    together = points().loc[[0, 3]].reset_index(drop=True)
    table = pd.DataFrame([row for row in rows() if row["point"] in (1, 4)]).astype({"error": "string"})
    asked = Sweep(ABOUT, together, table)
    assert "these points do not tell apart what each factor does" in asked.text_summary()
    drawn = SWEPT["effects"](asked)
    assert drawn is not None
    assert drawn.axes[0].get_title(loc="left") == "Output of each point by factor"
    told = [text.get_text() for axis in drawn.axes for text in axis.texts]
    assert not any("interval" in text for text in told)


def test_a_sweep_of_which_nothing_is_run_yet_has_no_plots_and_no_word_of_its_factors() -> None:
    nothing = Sweep(
        ABOUT, points(), pd.DataFrame(rows()).head(0).astype({"error": "string", "throughput_per_h": "float64"})
    )
    assert [name for name, plot in SWEPT.items() if plot(nothing) is not None] == []
    assert "factor" not in nothing.text_summary()


def test_the_points_that_are_left_by_indifference_are_named() -> None:
    rounds = {**ROUNDS, "best_by": "throughput_per_h", "indifference": 0.5}
    asked = Sweep({**ABOUT, "rounds": rounds, "left_out": [1, 3]}, points(), sweep().rows)
    text = " ".join(asked.text_summary().split())
    assert "2 of 4 points may be the best by throughput_per_h: 2, 4; a best one that leads by 0.5" in text
