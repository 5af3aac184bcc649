"""What a page is made of: sections that hold words, tiles, pictures, tables and drawings, in the order of reading."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from linesim.report.sheets import Sheet


@dataclass(frozen=True)
class Words:
    """A paragraph, or a list of sentences."""

    sentences: Sequence[str]
    kind: str = "words"


@dataclass(frozen=True)
class Tile:
    """One figure of the answer: what it is, the number with its unit, and a line below it."""

    what: str
    figure: str
    unit: str = ""
    below: Sequence[str] = ()


@dataclass(frozen=True)
class Tiles:
    tiles: Sequence[Tile]
    kind: str = "tiles"


@dataclass(frozen=True)
class Picture:
    """A drawing that is safe to be laid into the page as it is; says: what is to be seen, for who cannot see it."""

    drawing: Markup
    says: str
    caption: str = ""
    kind: str = "picture"


@dataclass(frozen=True)
class Replay:
    """The moving plan; data: what the script of the page needs, as JSON that is safe inside a page; states: name and
    words of those in the legend; about: of which run it is; scale: what of the drawing is to scale; types: mark and
    name of each part type."""

    data: Markup
    drawing: Markup
    states: Sequence[tuple[str, str]]
    about: str
    scale: str = ""
    types: Sequence[tuple[str, str]] = ()
    kind: str = "replay"


Part = Words | Tiles | Picture | Sheet | Replay


@dataclass(frozen=True)
class Section:
    anchor: str
    title: str
    parts: Sequence[Part]


@dataclass(frozen=True)
class Page:
    """title: of the browser's window too; below: the line under it."""

    title: str
    below: str
    sections: Sequence[Section]
