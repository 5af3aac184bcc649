"""Files by the short names that people are shown."""

import pytest

from linesim.line.file_names import short_file_names, short_levels


@pytest.mark.parametrize(
    ("given", "shown"),
    [
        (["second_grinder.yaml", "fast_gantry", "none"], ["second_grinder", "fast_gantry", "none"]),
        (["/home/me/my lines/cell.v2.yml", "my/cell"], ["cell.v2", "cell"]),
        (["rings/hall/slow.yaml", "discs/hall/slow.yaml"], ["rings/hall/slow", "discs/hall/slow"]),
        (["slow", "slow.yaml", "a/slow.yaml"], ["slow", "slow.yaml", "a/slow"]),
        (["a/slow.yml", "a/slow.yaml"], ["a/slow.yml", "a/slow.yaml"]),
        (["results/one/line.yaml", "results/two/line.yaml", "line.yaml"], ["one", "two", "line"]),
    ],
)
def test_a_file_is_shown_by_as_little_as_tells_it_from_the_others(given: list[str], shown: list[str]) -> None:
    assert list(short_file_names(given).values()) == shown


def test_files_that_make_a_level_together_are_each_shown_short() -> None:
    assert short_levels(["none", "a/slow.yaml + b/quick.yaml", "b/slow.yaml"]) == {
        "none": "none",
        "a/slow.yaml + b/quick.yaml": "a/slow + quick",
        "b/slow.yaml": "b/slow",
    }
