"""How things move: pure functions of the seconds since the movement began. A calm page fades instead."""

from __future__ import annotations

import math

from game.core.layout import Point


def share(t: float, seconds: float) -> float:
    """How far a movement of `seconds` is after `t`: 0 to 1."""
    return 1.0 if seconds <= 0 else max(0.0, min(1.0, t / seconds))


def ease(x: float) -> float:
    """A soft beginning and a soft end; 0 to 1 gives 0 to 1."""
    return x * x * (3 - 2 * x)


def between(a: Point, b: Point, x: float) -> Point:
    """The point a share `x` of the way from a to b."""
    return a[0] + (b[0] - a[0]) * x, a[1] + (b[1] - a[1]) * x


def arc(a: Point, b: Point, x: float, height: float) -> Point:
    """From a to b in a bow, `height` units high at its middle."""
    flat = between(a, b, x)
    return flat[0], flat[1] - height * 4 * x * (1 - x)


def hop(t: float, seconds: float, height: float = 14.0) -> float:
    """How high a hop is after `t`; 0 before and after it."""
    x = share(t, seconds)
    return height * math.sin(math.pi * x) if 0 < x < 1 else 0.0


def sway(t: float, seconds: float, width: float = 7.0) -> float:
    """A wiggle to both sides, twice a second, dying down within `seconds`."""
    x = share(t, seconds)
    return width * (1 - x) * math.sin(math.tau * 2 * t) if 0 < x < 1 else 0.0
