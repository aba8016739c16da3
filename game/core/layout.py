"""Where things stand: pure functions from a count and a box to centres in page units."""

from __future__ import annotations

import math
from dataclasses import dataclass
from random import Random

ARRANGEMENTS = ("line", "array", "circle", "scattered", "dice")
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in page units: left, top, width, height."""

    x: float
    y: float
    w: float
    h: float

    @property
    def centre(self) -> Point:
        return self.x + self.w / 2, self.y + self.h / 2

    def inside(self, point: Point, margin: float = 0.0) -> bool:
        return (
            self.x + margin <= point[0] <= self.x + self.w - margin
            and self.y + margin <= point[1] <= self.y + self.h - margin
        )


SET_BOX = Box(160, 85, 960, 510)
"""The part of the card in which sets of things are placed."""
SET_SIZE = 86.0
"""Side of one thing in a set of ten, in page units; ten of them fit every arrangement without touching."""
_LARGER = {6: 110.0, 7: 110.0, 8: 100.0, 9: 92.0, 10: SET_SIZE}
SET_GAP = 8.0
"""Free space that is kept between two things."""


def set_size(count: int) -> float:
    """Side of one thing in a set of `count`: few things are drawn larger, so that small eyes and fingers meet them."""
    return _LARGER.get(count, 128.0)


def arrange(
    arrangement: str, count: int, rng: Random, box: Box = SET_BOX, size: float | None = None
) -> tuple[Point, ...]:
    """Centres of `count` things (0 to 10) of `size` in `box`, none touching another or the edge.

    Raises ValueError for an arrangement that is not one of ARRANGEMENTS or a count that does not fit.
    """
    if arrangement not in ARRANGEMENTS:
        raise ValueError(f"arrangement {arrangement!r}; use one of {', '.join(ARRANGEMENTS)}")
    if not 0 <= count <= 10:
        raise ValueError(f"a set of {count}; use 0 to 10")
    if count == 0:
        return ()
    if size is None:
        size = set_size(count)
    if arrangement == "line":
        return _line(count, box, size)
    if arrangement == "array":
        return _array(count, box, size)
    if arrangement == "circle":
        return _circle(count, box, size, rng)
    if arrangement == "dice":
        return _dice(count, box, size)
    return _scattered(count, box, size, rng)


def _line(count: int, box: Box, size: float) -> tuple[Point, ...]:
    step = min(size * 1.3, box.w / count)
    if step < size:
        raise ValueError(f"a line of {count} things of {size} does not fit {box.w}")
    cx, cy = box.centre
    left = cx - step * (count - 1) / 2
    return tuple((left + step * i, cy) for i in range(count))


def _array(count: int, box: Box, size: float) -> tuple[Point, ...]:
    """Equal rows where the count has them (2x2, 2x3, 2x4, 3x3, 2x5), else one row longer than the other."""
    rows = {1: 1, 2: 1, 3: 1, 9: 3}.get(count, 2)
    columns = math.ceil(count / rows)
    across = min(size * 1.5, (box.w - size) / max(1, columns - 1))
    down = min(size * 1.45, (box.h - size) / max(1, rows - 1))
    if min(across, down) < size:
        raise ValueError(f"{rows} rows of {columns} things of {size} do not fit {box}")
    cx, cy = box.centre
    left, top = cx - across * (columns - 1) / 2, cy - down * (rows - 1) / 2
    return tuple((left + across * (i % columns), top + down * (i // columns)) for i in range(count))


def _circle(count: int, box: Box, size: float, rng: Random) -> tuple[Point, ...]:
    cx, cy = box.centre
    if count == 1:
        return ((cx, cy),)
    largest = (min(box.w, box.h) - size) / 2
    chord = (size + SET_GAP / 2) * math.sqrt(2)  # so that even two at 45 degrees keep their squares apart
    radius = min(largest, max(size * 1.1, chord / (2 * math.sin(math.pi / count))))
    turn = rng.random() * math.tau
    return tuple(
        (cx + radius * math.cos(turn + math.tau * i / count), cy + radius * math.sin(turn + math.tau * i / count))
        for i in range(count)
    )


_DIE: dict[int, tuple[Point, ...]] = {
    1: ((0, 0),),
    2: ((-1, -1), (1, 1)),
    3: ((-1, -1), (0, 0), (1, 1)),
    4: ((-1, -1), (1, -1), (-1, 1), (1, 1)),
    5: ((-1, -1), (1, -1), (0, 0), (-1, 1), (1, 1)),
}
"""The patterns of a die, in steps from its middle."""
DICE_APART = 2.6
"""How far the middle of each of two dice is from the middle of the page, in the same steps: farther apart than the
dots of one die, so that five and the rest are seen as two."""


def _dice(count: int, box: Box, size: float) -> tuple[Point, ...]:
    """As on a die up to 5; six to ten as a die of five and another with the rest, side by side."""
    step = min(size * 1.25, (box.h - size) / 2, (box.w - size) / (2 * DICE_APART + 2))
    if step < (size + SET_GAP) / math.sqrt(2):
        raise ValueError(f"dice with dots of {size} do not fit {box}")
    cx, cy = box.centre
    dice = [(0.0, count)] if count <= 5 else [(-DICE_APART * step, 5), (DICE_APART * step, count - 5)]
    return tuple((cx + shift + x * step, cy + y * step) for shift, dots in dice for x, y in _DIE[dots])


def _scattered(count: int, box: Box, size: float, rng: Random) -> tuple[Point, ...]:
    """Darts at the box, each kept when its square is clear of the rest; a full board starts again, closer."""
    edge = size / 2 + SET_GAP
    for tries in range(200):
        reach = max(size * 1.4 * 0.97**tries, size + SET_GAP)
        places: list[Point] = []
        for _ in range(60 * count):
            spot = (
                rng.uniform(box.x + edge, box.x + box.w - edge),
                rng.uniform(box.y + edge, box.y + box.h - edge),
            )
            if all(max(abs(spot[0] - x), abs(spot[1] - y)) >= reach for x, y in places):
                places.append(spot)
                if len(places) == count:
                    return tuple(places)
    raise ValueError(f"{count} things of {size} do not fit {box}")
