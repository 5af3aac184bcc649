"""What a notebook shows: a table with a figure, and names as text."""

from html.parser import HTMLParser

from linesim.results import Comparison, Results
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
