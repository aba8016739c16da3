"""Contrast and colour vision: what carries meaning is told apart by every eye, and never by colour alone."""

from __future__ import annotations

import colorspacious
import numpy as np
import pytest
import wcag_contrast_ratio

from game.ui import look

White = (255, 255, 255)


def luminance(colour: tuple[int, int, int]) -> float:
    """Relative luminance (WCAG 2.2, 2023; seen)."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in (v / 255 for v in colour)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: tuple[int, int, int], other: tuple[int, int, int]) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def grey(text: str) -> tuple[int, int, int]:
    return tuple(int(text[i : i + 2], 16) for i in (1, 3, 5))  # type: ignore[return-value]


@pytest.mark.parametrize(
    ("colour", "ratio"),
    # golden values, equal to PyPI wcag-contrast-ratio (computed): the first of each pair just passes 4.5 and 3
    [("#767676", 4.5422), ("#777777", 4.4781), ("#949494", 3.0335), ("#959595", 2.9953)],
)
def test_the_measure_of_contrast_gives_the_golden_values(colour, ratio):
    assert contrast(grey(colour), White) == pytest.approx(ratio, abs=5e-5)
    theirs = wcag_contrast_ratio.rgb([c / 255 for c in grey(colour)], (1, 1, 1))
    assert contrast(grey(colour), White) == pytest.approx(theirs, abs=1e-9)


@pytest.mark.parametrize(
    ("front", "back", "least"),
    # WCAG 2.2: 4.5 to 1 for text, 3 to 1 for parts that carry meaning; no rounding
    [
        ("INK", "CREAM", 4.5),
        ("INK", "PAPER_SHADE", 4.5),
        ("QUIET_TEXT", "CREAM", 4.5),
        ("INK", "LAMP", 3.0),
        ("INK", "GLOW", 3.0),
        ("INK", "SNOW", 4.5),
        ("LAMP", "NIGHT", 3.0),
        ("CREAM", "DUSK", 3.0),
    ],
)
def test_what_carries_meaning_stands_out(front, back, least):
    assert contrast(getattr(look, front), getattr(look, back)) >= least


def seen_with(colour: tuple[int, int, int], kind: str) -> tuple[int, int, int]:
    """How an eye without one kind of cone sees the colour (Machado, Oliveira & Fernandes 2009; colorspacious)."""
    space = {"name": "sRGB1+CVD", "cvd_type": kind, "severity": 100}
    seen = np.clip(colorspacious.cspace_convert([c / 255 for c in colour], space, "sRGB1"), 0, 1)
    return tuple(round(float(c) * 255) for c in seen)  # type: ignore[return-value]


def test_pure_red_is_seen_as_published():
    # deuteranomaly 1.0, pure red becomes (163, 144, 0) (copy)
    assert seen_with((255, 0, 0), "deuteranomaly") == pytest.approx((163, 144, 0), abs=1)


@pytest.mark.parametrize("kind", ["deuteranomaly", "protanomaly", "tritanomaly"])
def test_lit_and_unlit_and_right_and_plain_differ_for_every_eye(kind):
    lit, unlit = seen_with(look.LAMP, kind), seen_with(look.DUSK, kind)
    assert contrast(lit, unlit) >= 3.0
    assert contrast(seen_with(look.INK, kind), seen_with(look.CREAM, kind)) >= 4.5
