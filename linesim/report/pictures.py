"""Plots of the results as drawings inside a page."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from collections.abc import Callable, Iterable
from typing import TypeVar

from markupsafe import Markup

from linesim.report.parts import Picture

SVG, XLINK = "http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink"
T = TypeVar("T")


def pictures(plots: Iterable[tuple[str, Callable[[T], object], str]], shown: T) -> list[Picture]:
    """The plots that have something to show; each with a name and what is to be seen in it."""
    from linesim.results.plots import svg

    made = [(name, plot(shown), says) for name, plot, says in plots]
    return [Picture(inline(svg(figure), name), says) for name, figure, says in made if figure is not None]  # type: ignore[arg-type]


def inline(svg: str, name: str) -> Markup:
    """An SVG file as an element of a page: its inner names start with `name`, so that drawings do not mix them up."""
    ElementTree.register_namespace("", SVG)
    ElementTree.register_namespace("xlink", XLINK)
    root = ElementTree.fromstring(svg)
    for metadata in root.findall(f"{{{SVG}}}metadata"):
        root.remove(metadata)
    for element in root.iter():
        for key, text in element.attrib.items():
            if key == "id":
                element.set(key, f"{name}-{text}")
            elif key == f"{{{XLINK}}}href" and text.startswith("#"):
                element.set(key, f"#{name}-{text[1:]}")
            elif "url(#" in text:
                element.set(key, text.replace("url(#", f"url(#{name}-"))
    for group in root.iter(f"{{{SVG}}}g"):
        group.attrib.pop("id", None)
    for size in ("width", "height"):
        root.attrib.pop(size, None)
    root.set("aria-hidden", "true")
    return Markup(ElementTree.tostring(root, encoding="unicode"))
