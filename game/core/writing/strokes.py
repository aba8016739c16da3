"""Ink as it comes from a pen, finger or mouse: checked, cleaned and freed of accidental dots.

A stroke is a sequence of (x, y, at_ms) or, where no time is known, (x, y); y points down, in any unit.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from game.core.writing.curves import Line, Point, length, spaced

FARTHEST = 100_000.0
"""No page is larger than this in any unit; a point beyond it is a fault of the device."""
MOST_POINTS = 200_000
MOST_STROKES = 24
"""More strokes than this, dots apart, are a drawing and not a word (`eight` has nine with every lift)."""
DOT_SHARE = 0.08
"""A stroke shorter than this share of the longest one is an accidental dot (or the dot of an i)."""
KEPT_POINTS = 240
"""Points kept of one stroke: 200 points a second for over a second, more only cost time."""


@dataclass(frozen=True)
class Ink:
    """Clean strokes, and the dots that were set aside. Times are checked and not used: devices disagree on them."""

    strokes: tuple[Line, ...]
    dots: tuple[Line, ...] = ()


@dataclass(frozen=True)
class Box:
    """The smallest upright box around some points."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.bottom - self.top

    @property
    def size(self) -> float:
        """The longer side, never 0."""
        return max(self.width, self.height, 1e-9)


def box_of(lines: Iterable[Line]) -> Box:
    """The box around all lines; ValueError for none."""
    points = [point for line in lines for point in line]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


def clean(strokes: Sequence[Sequence[Sequence[float]]]) -> Ink:
    """Check and clean the ink; ValueError names the stroke, the point and the value that cannot be used."""
    lines: list[Line] = []
    count = 0
    for number, stroke in enumerate(strokes, start=1):
        count += len(stroke)
        if count > MOST_POINTS:
            raise ValueError(f"more than {MOST_POINTS} points; no hand writes that much for one symbol")
        points: list[Point] = []
        for place, point in enumerate(stroke, start=1):
            here = _checked(point, number, place)
            if not points or here != points[-1]:
                points.append(here)
        lines.append(tuple(points))
    return _without_dots(lines)


def _checked(point: Sequence[float], number: int, place: int) -> Point:
    where = f"stroke {number}, point {place}"
    if not isinstance(point, (list, tuple)) or len(point) not in (2, 3):
        raise ValueError(f"{where}: {point!r} is not (x, y) or (x, y, milliseconds)")
    for name, value in zip(("x", "y", "milliseconds"), point, strict=False):
        if name == "milliseconds" and value is None:
            continue
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
            raise ValueError(f"{where}: {name} is {value!r}; a number is needed")
        if name != "milliseconds" and abs(value) > FARTHEST:
            raise ValueError(f"{where}: {name} is {value!r}, off the page")
    return float(point[0]), float(point[1])


def _without_dots(lines: list[Line]) -> Ink:
    lengths = [length(line) if len(line) > 1 else 0.0 for line in lines]
    least = DOT_SHARE * max(lengths, default=0.0)
    kept = [size > 0 and size >= least for size in lengths]
    return Ink(
        tuple(_thinned(line) for line, keep in zip(lines, kept, strict=True) if keep),
        tuple(line for line, keep in zip(lines, kept, strict=True) if line and not keep),
    )


def _thinned(line: Line) -> Line:
    """At most KEPT_POINTS points, lightly smoothed where they lie close enough to carry a pen's noise."""
    if len(line) > KEPT_POINTS:
        line = spaced(line, KEPT_POINTS)
    if len(line) < 24:
        return line
    inner = [
        ((a[0] + 2 * b[0] + c[0]) / 4, (a[1] + 2 * b[1] + c[1]) / 4)
        for a, b, c in zip(line, line[1:], line[2:], strict=False)
    ]
    return (line[0], *inner, line[-1])


def mirrored(lines: Iterable[Line]) -> tuple[Line, ...]:
    """The lines as seen in a looking-glass that stands upright beside them."""
    return tuple(tuple((-x, y) for x, y in line) for line in lines)
