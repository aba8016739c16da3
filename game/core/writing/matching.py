"""Which stroke of a form each stroke of the ink is, and whether it ran forward: banded dynamic time warping.

Points carry their place in the box and 0.4 times the cosine and sine of the way of writing, so that a stroke and its
reverse lie far apart although they are the same line.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise, permutations, product

from game.core.writing.curves import Line, length, spaced
from game.core.writing.strokes import Box, box_of

COUNT = 16
BAND = 4
WAY_SHARE = 0.4
CLOSED_GAP = 0.1
MOST_ORDERED = 3
"""Up to so many strokes all orders are tried when strokes are joined; more would take too long."""

Feature = tuple[float, float, float, float]
Signature = tuple[Feature, ...]


@dataclass(frozen=True)
class Fit:
    """How ink lies on a form: for each stroke of the form the number of the ink's stroke and its direction."""

    cost: float
    order: tuple[int, ...]
    reversed: tuple[bool, ...]
    lines: tuple[Line, ...]
    """The ink in the form's order, as written."""
    joined: bool = False


def signature(line: Line, box: Box) -> Signature:
    """COUNT points in units of the box's longer side, from its centre."""
    x_mid, y_mid = (box.left + box.right) / 2, (box.top + box.bottom) / 2
    points = [((x - x_mid) / box.size, (y - y_mid) / box.size) for x, y in spaced(line, COUNT)]
    wide = [points[0], *points, points[-1]]
    found: list[Feature] = []
    for before, here, after in zip(wide, points, wide[2:], strict=False):
        dx, dy = after[0] - before[0], after[1] - before[1]
        size = math.hypot(dx, dy) or 1.0
        found.append((here[0], here[1], WAY_SHARE * dx / size, WAY_SHARE * dy / size))
    return tuple(found)


model_signature = lru_cache(maxsize=1024)(signature)
"""The same for a stroke of a form, of which there are few and which come again and again."""


def backwards(stroke: Signature) -> Signature:
    """The signature of the same stroke run from its end to its start."""
    return tuple((x, y, -cos, -sin) for x, y, cos, sin in reversed(stroke))


def warped(a: Signature, b: Signature, band: int = BAND) -> float:
    """Mean distance along the best warping of two strokes (Sakoe & Chiba 1978, band of fixed width)."""
    far = math.inf
    before = [far] * (len(b) + 1)
    before[0] = 0.0
    for i, (ax, ay, ac, as_) in enumerate(a):
        row = [far] * (len(b) + 1)
        for j in range(max(0, i - band), min(len(b), i + band + 1)):
            bx, by, bc, bs = b[j]
            step = math.sqrt((ax - bx) ** 2 + (ay - by) ** 2 + (ac - bc) ** 2 + (as_ - bs) ** 2)
            row[j + 1] = step + min(before[j], before[j + 1], row[j])
        before = row
    return before[len(b)] / max(len(a), len(b))


def fit(ink: Sequence[Line], form: Sequence[Line]) -> Fit:
    """The best way to lay the ink on the strokes of the form, whatever their order and direction."""
    box, model = box_of(ink), box_of(form)
    ink = _merged(ink, len(form), box)
    if len(ink) < len(form):
        return _joined(ink, form, box, model)
    written = [signature(line, box) for line in ink]
    taught = [model_signature(line, model) for line in form]
    costs = [[_both_ways(mine, theirs) for mine in written] for theirs in taught]
    best: tuple[float, tuple[int, ...]] = (math.inf, ())
    for order in permutations(range(len(ink)), len(form)):
        cost = sum(min(costs[place][number]) for place, number in enumerate(order)) / len(form)
        best = min(best, (cost, order))
    flags = tuple(costs[place][number][1] < costs[place][number][0] for place, number in enumerate(best[1]))
    lines = tuple(ink[number] for number in best[1])
    turned = tuple(
        _runs_against(line, model_line, flag) for line, model_line, flag in zip(lines, form, flags, strict=True)
    )
    return Fit(best[0], best[1], turned, lines)


def _both_ways(mine: Signature, theirs: Signature) -> tuple[float, float]:
    return warped(mine, theirs), warped(backwards(mine), theirs)


def _merged(ink: Sequence[Line], count: int, box: Box) -> list[Line]:
    """The ink with the lifts of smallest gap undone until no more than `count` strokes are left."""
    lines = list(ink)
    while len(lines) > count:
        gaps = [math.dist(a[-1], b[0]) / box.size for a, b in pairwise(lines)]
        at = gaps.index(min(gaps))
        lines[at : at + 2] = [lines[at] + lines[at + 1]]
    return lines


def _joined(ink: list[Line], form: Sequence[Line], box: Box, model: Box) -> Fit:
    """Ink with fewer strokes than the form: written in one go, links and all, in some order and direction."""
    whole = signature(tuple(point for line in ink for point in line), box)
    best = Fit(math.inf, (), (), ())
    orders = permutations(range(len(form))) if len(form) <= MOST_ORDERED else [tuple(range(len(form)))]
    for order in orders:
        for flags in product((False, True), repeat=min(len(form), MOST_ORDERED)):
            flags = flags + (False,) * (len(form) - len(flags))
            run = [form[k][::-1] if flags[k] else form[k] for k in order]
            cost = warped(whole, signature(tuple(point for line in run for point in line), model))
            if cost < best.cost:
                ranks = tuple(order.index(place) for place in range(len(form)))
                best = Fit(cost, ranks, flags, (), True)
    return best


def _runs_against(line: Line, model: Line, flag: bool) -> bool:
    """`flag` from warping, but for a closed stroke whether its upper half turns the other way round.

    A closed stroke may begin anywhere, which warping takes for a change of direction; its turning does not change.
    """
    size = box_of([model]).size
    if math.dist(model[0], model[-1]) > CLOSED_GAP * size:
        return flag
    mine, theirs = _upper_turning(line), _upper_turning(model)
    return flag if mine == 0 else mine * theirs < 0


def _upper_turning(line: Line) -> float:
    """Twice the signed area that the upper half of the line sweeps about its own middle; over 0 is clockwise."""
    points = spaced(line, 48)
    box = box_of([points])
    level = (box.top + box.bottom) / 2 - 0.04 * box.height
    upper = [(a, b) for a, b in pairwise(points) if a[1] < level and b[1] < level]
    if not upper or length(line) == 0:
        return 0.0
    x_mid = sum(a[0] for a, _ in upper) / len(upper)
    y_mid = sum(a[1] for a, _ in upper) / len(upper)
    return sum((a[0] - x_mid) * (b[1] - y_mid) - (b[0] - x_mid) * (a[1] - y_mid) for a, b in upper)
