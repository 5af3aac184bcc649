"""What the tests of pages share: results by hand, a reader of pages, and names that try to be more than text."""

from __future__ import annotations

from html.parser import HTMLParser
from typing import Any

from linesim.line import Line
from linesim.results import Results
from tests.unit.results.ledgers import ledger, line

HOSTILE = "</title><script>alert('1')</script> \"two\" & $x_1$ &amp; <b>"
VOID = {"meta", "link", "br", "img", "input", "hr"}


def results_of(named: Line, count: int = 2) -> Results:
    """Results of the ledger by hand, the same in each replication; its gantry is no loader of the line by hand."""
    results = Results(named, [ledger(replication=number) for number in range(1, count + 1)])
    choice = {"next_call": "downstream_first", "places": [], "grippers": 2, "exchanges_per_tour": 1}
    results.about["loaders"] = {"gantry": choice}
    return results


def hostile_line() -> Line:
    return line(name=HOSTILE, assumptions={"stations.mill.cycle": {"source": HOSTILE, "range": ["50 s", "70 s"]}})


class Reading(HTMLParser):
    """A page as a browser reads it: elements with their attributes, and the words inside each kind of element."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.attributes: list[tuple[str, str, str]] = []  # element, attribute, value
        self.words: dict[str, list[str]] = {}
        self.mismatched: list[str] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.attributes += [(tag, name, value or "") for name, value in attrs] or [(tag, "", "")]
        if tag not in VOID:
            self.open.append(tag)
            self.words.setdefault(tag, []).append("")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.attributes += [(tag, name, value or "") for name, value in attrs]

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.mismatched.append(tag)

    def handle_data(self, data: str) -> None:
        for tag in set(self.open):
            self.words[tag][-1] += data

    def named(self, attribute: str) -> list[str]:
        return [value for _, name, value in self.attributes if name == attribute]


def cells(sheet: Any, row: str) -> list[Any]:
    """The cells of the row of a sheet that begins with this word."""
    return next(list(each) for each in sheet.rows if each[0] == row)
