"""A page as one file: whatever the names are, they are text; nothing is asked of the network; our scripts alone run."""

import re

import pytest

from linesim.report import run_page as run_page_room
from linesim.report.page import html
from linesim.report.run_page import run_page
from linesim.report.templating import digest
from linesim.results import colours
from tests.unit.report.pages import HOSTILE, Reading, hostile_line, results_of
from tests.unit.results.ledgers import line


@pytest.fixture(scope="module")
def page() -> str:
    return html(run_page(results_of(hostile_line()), hostile_line()))


def test_elements_open_and_close_in_order(page: str) -> None:
    read = Reading(page)
    assert (read.mismatched, read.open) == ([], [])


def test_a_hostile_name_is_shown_as_text(page: str) -> None:
    read = Reading(page)
    assert read.words["h1"] == [HOSTILE]
    assert read.words["title"][0] == HOSTILE
    assert HOSTILE in read.words["td"]
    assert "b" not in read.words
    assert any(HOSTILE[:20] in words for words in read.words["text"])  # in the plots too


def test_only_our_own_scripts_may_run(page: str) -> None:
    read = Reading(page)
    policy = next(value for value in read.named("content") if "script-src" in value)
    allowed = re.findall(r"'(sha256-[^']+)'", policy)
    assert sorted(digest(script) for script in read.words["script"]) == sorted(allowed)
    assert "'unsafe-inline'" not in policy.partition("script-src")[2]
    assert not [name for _, name, _ in read.attributes if name.startswith("on")]


def test_nothing_is_asked_of_the_network(page: str) -> None:
    read = Reading(page)
    asked = [value for name in ("src", "href", "xlink:href", "action", "data") for value in read.named(name)]
    assert asked
    assert [value for value in asked if not value.startswith("#")] == []
    assert "@import" not in page
    assert set(re.findall(r"url\((.)", page)) == {"#"}


def test_names_inside_drawings_are_there_once(page: str) -> None:
    names = Reading(page).named("id")
    assert len(names) == len(set(names))
    used = {value[1:] for value in Reading(page).named("xlink:href")} | set(re.findall(r"url\(#([^)]+)\)", page))
    assert used <= set(names)


def test_a_drawing_says_what_is_to_be_seen(page: str) -> None:
    drawings = [value for tag, name, value in Reading(page).attributes if name == "aria-label" and tag == "div"]
    assert len(drawings) >= 8
    assert all(drawings)


def test_without_the_file_of_the_line_there_is_a_page_without_its_plan() -> None:
    titles = [section.title for section in run_page(results_of(line()), None).sections]
    assert "The answer" in titles
    assert "The line" not in titles


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, as WCAG 2.1 defines it."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_the_contrast_of_black_and_white_is_21_and_words_have_more_than_wcag_aa_asks_for() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    for words in (colours.INK, colours.INDIGO):
        assert contrast(words, colours.WHITE) >= 4.5
        assert contrast(words, colours.FAINT) >= 4.5


def test_a_plot_that_the_page_does_not_know_has_a_section_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(run_page_room.PLOTS, "brand_new", run_page_room.PLOTS["losses"])
    titles = [section.title for section in run_page(results_of(line()), None).sections]
    assert "Further plots" in titles


def test_every_plot_that_the_page_knows_is_there() -> None:
    assert set(run_page_room.SAYS) <= set(run_page_room.PLOTS)
