"""Ink as it comes from a pen, finger or mouse: checked, cleaned and freed of accidental dots.

A stroke is a sequence of (x, y, at_ms), y pointing down, in any unit.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from game.core.writing.curves import Line, Point, length, spaced

InkPoint = tuple[float, float, float]
InkStroke = tuple[InkPoint, ...]

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
    """Clean strokes, the dots that were set aside, and for both their numbers among the strokes as given."""

    strokes: tuple[Line, ...]
    numbers: tuple[int, ...]
    dots: tuple[Line, ...] = ()
    late: bool = False
    """Times run backwards somewhere, so nothing is read from them."""


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
    late, count = False, 0
    for number, stroke in enumerate(strokes, start=1):
        points: list[Point] = []
        before = -math.inf
        count += len(stroke)
        if count > MOST_POINTS:
            raise ValueError(f"more than {MOST_POINTS} points; no hand writes that much for one symbol")
        for place, point in enumerate(stroke, start=1):
            x, y, at = _checked(point, number, place)
            late, before = late or at < before, at
            if not points or (x, y) != points[-1]:
                points.append((x, y))
        lines.append(tuple(points))
    return _without_dots(lines, late)


def _checked(point: Sequence[float], number: int, place: int) -> InkPoint:
    where = f"stroke {number}, point {place}"
    if not isinstance(point, (list, tuple)) or len(point) != 3:
        raise ValueError(f"{where}: {point!r} is not (x, y, milliseconds)")
    for name, value in zip(("x", "y", "milliseconds"), point, strict=True):
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
            raise ValueError(f"{where}: {name} is {value!r}; a number is needed")
        if name != "milliseconds" and abs(value) > FARTHEST:
            raise ValueError(f"{where}: {name} is {value!r}, off the page")
    return float(point[0]), float(point[1]), float(point[2])


def _without_dots(lines: list[Line], late: bool) -> Ink:
    lengths = [length(line) if len(line) > 1 else 0.0 for line in lines]
    least = DOT_SHARE * max(lengths, default=0.0)
    kept = [number for number, size in enumerate(lengths) if size > 0 and size >= least]
    dots = tuple(line for number, line in enumerate(lines) if line and number not in set(kept))
    return Ink(tuple(_thinned(lines[number]) for number in kept), tuple(kept), dots, late)


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
