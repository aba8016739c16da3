"""What a drawing looks like, in numbers: once as a picture and once as a trace.

The picture is free of the order and the direction of strokes: a grid is laid over the box of the ink, each cell
collects the length of ink in each of six orientations, and a coarser grid the ends of strokes. The trace follows the
ink as it was written. In both, the narrow side of a drawing is stretched only in part (aspect-adaptive
normalisation, Liu, Nakashima, Sako & Fujisawa 2004, Pattern Recognition 37; from memory).
"""

import math
from collections.abc import Sequence
from itertools import pairwise

from game.core.writing.curves import Line, length, spaced
from game.core.writing.strokes import box_of

CELLS = 6
ANGLES = 6
END_CELLS = 5
TRACE_POINTS = 16
PICTURE_SIZE = CELLS * CELLS * ANGLES + END_CELLS * END_CELLS + 3
TRACE_SIZE = 4 * TRACE_POINTS + 4
_STEP = 1 / 28
_FEWEST, _MOST = 4, 160


def boxed(lines: Sequence[Line]) -> list[Line]:
    """The lines moved and scaled into a square from 0 to 1, the narrow side centred."""
    box = box_of(lines)
    ratio = min(box.width, box.height) / box.size
    short = math.sqrt(math.sin(math.pi / 2 * ratio))
    x_scale = (short if box.width < box.height else 1.0) / max(box.width, 1e-6 * box.size)
    y_scale = (short if box.height < box.width else 1.0) / max(box.height, 1e-6 * box.size)
    x_mid, y_mid = (box.left + box.right) / 2, (box.top + box.bottom) / 2
    return [tuple((0.5 + (x - x_mid) * x_scale, 0.5 + (y - y_mid) * y_scale) for x, y in line) for line in lines]


def picture(lines: Sequence[Line]) -> list[float]:
    """PICTURE_SIZE numbers between about 0 and 2 for lines of which one at least has some length."""
    box, placed = box_of(lines), boxed(lines)
    grid = [0.0] * (CELLS * CELLS * ANGLES)
    ends = [0.0] * (END_CELLS * END_CELLS)
    total = 0.0
    for line in placed:
        size = length(line)
        total += size
        _collect(spaced(line, max(_FEWEST, min(_MOST, round(size / _STEP) + 1))), grid)
        for end in (line[0], line[-1]):
            _spread(end, ends)
    slenderness = math.log(max(box.width, 0.02 * box.size) / max(box.height, 0.02 * box.size))
    shape = [slenderness / 2, total / 4, min(len(lines), 5) / 5]
    return [math.sqrt(max(0.0, value)) for value in grid + ends] + shape


def trace(lines: Sequence[Line]) -> list[float]:
    """TRACE_SIZE numbers: points evenly spaced along all ink in the order of writing, and the way it ran there."""
    legs = [(a, b, math.dist(a, b)) for line in boxed(lines) for a, b in pairwise(line) if a != b]
    step = sum(leg for _, _, leg in legs) / TRACE_POINTS
    points = [legs[0][0]]
    walked, at = 0.0, 0
    for number in range(TRACE_POINTS):
        goal = (number + 0.5) * step
        while at < len(legs) - 1 and walked + legs[at][2] < goal:
            walked += legs[at][2]
            at += 1
        a, b, leg = legs[at]
        share = min(1.0, (goal - walked) / leg)
        points.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
    points.append(legs[-1][1])
    ways: list[float] = []
    for before, after in zip(points, points[2:], strict=False):
        dx, dy = after[0] - before[0], after[1] - before[1]
        size = math.hypot(dx, dy) or 1.0
        ways += [0.4 * dx / size, 0.4 * dy / size]
    return [value - 0.5 for point in points for value in point] + ways


def _collect(line: Line, grid: list[float]) -> None:
    """Add every leg of the line to the four cells around it and the two orientations beside it."""
    per_angle, last = ANGLES / math.pi, CELLS - 1
    ax, ay = line[0]
    for bx, by in line[1:]:
        dx, dy = bx - ax, by - ay
        leg = math.sqrt(dx * dx + dy * dy)
        if leg > 0:
            turn = math.atan2(dy, dx) % math.pi * per_angle
            low = int(turn)
            part = turn - low
            low %= ANGLES
            high = (low + 1) % ANGLES
            column, row = (ax + bx) / 2 * last, (ay + by) / 2 * last
            i, j = min(int(column), last - 1), min(int(row), last - 1)
            u, v = column - i, row - j
            at = (j * CELLS + i) * ANGLES
            for cell, share in (
                (at, (1 - u) * (1 - v)),
                (at + ANGLES, u * (1 - v)),
                (at + CELLS * ANGLES, (1 - u) * v),
                (at + (CELLS + 1) * ANGLES, u * v),
            ):
                amount = leg * share
                grid[cell + low] += amount * (1 - part)
                grid[cell + high] += amount * part
        ax, ay = bx, by


def _spread(point: tuple[float, float], cells: list[float]) -> None:
    last = END_CELLS - 1
    column, row = point[0] * last, point[1] * last
    i, j = min(int(column), last - 1), min(int(row), last - 1)
    u, v = column - i, row - j
    at = j * END_CELLS + i
    cells[at] += (1 - u) * (1 - v)
    cells[at + 1] += u * (1 - v)
    cells[at + END_CELLS] += (1 - u) * v
    cells[at + END_CELLS + 1] += u * v
