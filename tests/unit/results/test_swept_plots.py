"""Words in the map of two factors can be read on every colour of it."""

from __future__ import annotations

import matplotlib as mpl
import pytest

from linesim.results.plots.swept import ink_on


def luminance(colour: tuple[float, ...]) -> float:
    """Relative luminance as WCAG 2 defines it (from memory): of white 1, of black 0."""
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in colour[:3]]
    return sum(weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def test_black_stands_out_on_white_and_white_on_black() -> None:
    assert ink_on((1.0, 1.0, 1.0)) == "black"
    assert ink_on((0.0, 0.0, 0.0)) == "white"


@pytest.mark.parametrize("share", [step / 50 for step in range(51)])
def test_words_on_the_map_have_the_contrast_that_wcag_asks_for(share: float) -> None:
    """At least 4.5 to 1, as level AA asks for small words."""
    ground = mpl.colormaps["Blues"](share)
    lights = sorted([luminance(ground), {"black": 0.0, "white": 1.0}[ink_on(ground)]])
    assert (lights[1] + 0.05) / (lights[0] + 0.05) >= 4.5
