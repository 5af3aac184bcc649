"""What a notebook shows: a table with a figure, and names as text."""

from html.parser import HTMLParser

from linesim.results import Comparison, Results
from tests.unit.report.studies import acceptance, sensitivity
from tests.unit.report.sweeps import sweep
from tests.unit.results.ledgers import ledger, line

HOSTILE = '<script>alert(1)</script> & "more"'


class Elements(HTMLParser):
    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.words = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.words += data


def test_a_run_is_a_table_with_a_figure() -> None:
    read = Elements(Results(line(name=HOSTILE), [ledger()])._repr_html_())
    tags = [tag for tag, _ in read.found]
    assert "script" not in tags
    assert "table" in tags
    (image,) = (attributes for tag, attributes in read.found if tag == "img")
    assert str(image["src"]).startswith("data:image/svg+xml;base64,")
    assert image["alt"] == HOSTILE
    assert HOSTILE in read.words
    assert "18.00" in read.words  # 5 good parts in 1000 s


def test_a_comparison_is_a_table_with_a_figure() -> None:
    results = Results(line(), [ledger(replication=number) for number in (1, 2, 3)])
    read = Elements(Comparison({"base": results, HOSTILE: results})._repr_html_())
    assert "script" not in [tag for tag, _ in read.found]
    assert HOSTILE in read.words
    assert "no difference shown" in read.words


def test_a_sweep_shows_its_points_with_the_most_output_first() -> None:
    read = Elements(sweep(HOSTILE)._repr_html_())
    tags = [tag for tag, _ in read.found]
    assert "script" not in tags
    assert "img" in tags
    assert HOSTILE in read.words
    assert "25.13" in read.words  # point 4: (24 + 25.1 + 26.3) / 3
    assert read.words.index("25.13") < read.words.index("21.43")


def test_a_sensitivity_study_shows_improvements_and_assumptions() -> None:
    read = Elements(sensitivity()._repr_html_())
    assert "script" not in [tag for tag, _ in read.found]
    assert all(words in read.words for words in ("for 1 %", "at 80 s", "no difference shown"))


def test_an_acceptance_test_shows_what_tests_give() -> None:
    read = Elements(acceptance()._repr_html_())
    tags = [tag for tag, _ in read.found]
    assert "script" not in tags
    assert "img" in tags
    assert "150.5" in read.words  # mean of 101 to 200
