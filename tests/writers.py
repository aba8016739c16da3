"""Synthetic writers whose truth is known, made of arcs and straight lines, apart from levels/forms.

They are no children and no adults; figures from them say "under synthetic wobble of x %" and no more. A symbol is 100
units high with its base line at y 100, strokes are lists of (x, y) in the order and direction of common practice.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise
from random import Random

Points = list[tuple[float, float]]
Strokes = list[Points]
RULING = (0.0, 100.0)
WAVE = 110.0
"""Mean length along the stroke of one swing of a shaky hand; the three sines run from 0.6 to 1.6 times as often."""


def arc(cx: float, cy: float, rx: float, ry: float, begin: float, end: float) -> Points:
    """Points of an ellipse between two angles in degrees: 0 right, 90 down, falling is counter-clockwise."""
    count = max(8, int(abs(end - begin) / 9))
    return [
        (cx + rx * math.cos(math.radians(a)), cy + ry * math.sin(math.radians(a)))
        for a in (begin + (end - begin) * k / count for k in range(count + 1))
    ]


def line(*corners: tuple[float, float]) -> Points:
    points = [corners[0]]
    for a, b in pairwise(corners):
        count = max(2, int(math.dist(a, b) / 5))
        points += [(a[0] + (b[0] - a[0]) * k / count, a[1] + (b[1] - a[1]) * k / count) for k in range(1, count + 1)]
    return points


NUMERALS: dict[str, list[Strokes]] = {
    "0": [[arc(28, 50, 28, 50, -90, -450)], [arc(22, 50, 22, 50, -80, -440)]],
    "1": [[line((0, 0), (0, 100))], [line((0, 25), (25, 0), (25, 100))]],
    "2": [
        [arc(26, 26, 26, 26, -170, 20) + line((50, 36), (2, 100), (56, 100))],
        [arc(24, 24, 24, 24, -150, 30) + line((44, 38), (0, 98), (52, 96))],
    ],
    "3": [
        [arc(24, 23, 24, 23, -150, 90) + arc(24, 73, 28, 27, -90, 150)],
        [line((4, 0), (46, 0), (22, 40)) + arc(20, 70, 28, 30, -80, 140)],
    ],
    "4": [
        [line((14, 0), (0, 60), (58, 60)), line((42, 2), (42, 100))],
        [line((40, 0), (0, 68), (60, 68)), line((42, 0), (42, 100))],
    ],
    "5": [
        [line((8, 0), (6, 42)) + arc(24, 68, 28, 32, -125, 140), line((8, 0), (50, 0))],
        [line((10, 2), (4, 46)) + arc(22, 70, 26, 30, -130, 130), line((11, 3), (54, 1))],
    ],
    "6": [
        [arc(56, 66, 56, 66, -110, -175) + arc(27, 72, 27, 28, -190, -545)],
        [line((38, 0), (6, 56)) + arc(26, 74, 25, 26, -140, -495)],
    ],
    "7": [
        [line((0, 0), (54, 0), (18, 100))],
        [line((2, 3), (50, 0)) + arc(110, 100, 88, 112, -135, -180)],
    ],
    "8": [
        [arc(26, 24, 22, 24, -30, -270) + arc(26, 74, 26, 26, -90, 270) + arc(26, 24, 22, 24, 90, -30)],
        [arc(24, 25, 18, 25, -40, -260) + arc(23, 74, 23, 26, -85, 255) + arc(24, 25, 18, 25, 80, -40)],
    ],
    "9": [
        [arc(26, 27, 26, 27, -20, -360) + line((52, 27), (52, 100))],
        [arc(26, 26, 25, 26, -20, -365) + arc(-14, 26, 65, 74, 0, 70)],
    ],
}
LETTERS: dict[str, Strokes] = {
    "a": [arc(22, 75, 22, 25, -40, -320) + line((44, 52), (44, 100))],
    "b": [line((0, 0), (0, 100)), arc(20, 76, 20, 24, -180, 170)],
    "c": [arc(24, 75, 24, 25, -45, -315)],
    "d": [arc(20, 76, 20, 24, -40, -330), line((40, 0), (40, 100))],
    "e": [line((2, 74), (44, 74)) + arc(23, 75, 22, 25, 0, -310)],
    "f": [arc(26, 14, 14, 14, -20, -180) + line((12, 14), (12, 100)), line((0, 50), (30, 50))],
    "g": [arc(20, 74, 20, 24, -40, -340) + line((40, 52), (40, 128)) + arc(20, 128, 20, 22, 0, 140)],
    "h": [line((0, 0), (0, 100)), arc(18, 70, 18, 20, -180, 0) + line((36, 70), (36, 100))],
    "k": [line((0, 0), (0, 100)), line((30, 50), (2, 76), (32, 100))],
    "m": [line((0, 50), (0, 100), (0, 66)) + arc(14, 64, 14, 14, -180, 0) + line((28, 64), (28, 100), (28, 66))
          + arc(42, 64, 14, 14, -180, 0) + line((56, 64), (56, 100))],
    "n": [line((0, 50), (0, 100), (0, 68)) + arc(18, 68, 18, 18, -180, 0) + line((36, 68), (36, 100))],
    "p": [line((0, 50), (0, 150)), arc(20, 74, 20, 24, -170, 170)],
    "q": [arc(20, 74, 20, 24, -40, -330) + line((40, 52), (40, 150), (52, 138))],
    "r": [line((0, 50), (0, 100), (0, 72)) + arc(18, 70, 18, 20, -180, -50)],
    "t": [line((16, 20), (16, 100)), line((0, 50), (34, 50))],
    "u": [line((0, 50), (0, 80)) + arc(18, 80, 18, 20, 180, 0) + line((36, 80), (36, 50), (36, 100))],
    "v": [line((0, 50), (20, 100), (40, 50))],
    "w": [line((0, 50), (15, 100), (30, 54), (45, 100), (60, 50))],
    "x": [line((0, 50), (38, 100)), line((38, 50), (0, 100))],
    "y": [line((0, 50), (20, 96)), line((40, 50), (8, 148))],
    "z": [line((0, 50), (40, 50), (0, 100), (42, 100))],
    "s": [arc(18, 62, 17, 12, -30, -250) + arc(18, 88, 19, 13, -80, 150)],
    "o": [arc(24, 75, 24, 25, -90, -450)],
    "i": [line((0, 50), (0, 100)), line((0, 26), (1, 28))],
}  # fmt: skip


@dataclass(frozen=True)
class Habit:
    """One writer's hand; sizes are shares of the height."""

    slant: float = 0.0
    turn: float = 0.0
    widen: float = 1.0
    bend: float = 0.0
    wobble: float = 0.0
    rate: float = 60.0
    speed: float = 180.0
    """Heights a hundred units each, in units a second."""


def habit(rng: Random, wobble: float = 0.02) -> Habit:
    return Habit(
        rng.gauss(0.05, 0.12),
        math.radians(rng.gauss(0, 3)),
        math.exp(rng.gauss(0, 0.14)),
        abs(rng.gauss(0, 0.03)),
        wobble,
        rng.choice([30.0, 60.0, 120.0]),
        rng.uniform(100, 260),
    )


def skeleton(symbol: str, rng: Random, style: int | None = None) -> Strokes:
    """The strokes of a symbol as common practice has them, in one of the styles known here."""
    if symbol in LETTERS:
        return [list(stroke) for stroke in LETTERS[symbol]]
    styles = NUMERALS[symbol]
    return [list(stroke) for stroke in styles[rng.randrange(len(styles)) if style is None else style]]


def along(points: Points, step: float) -> Points:
    """The points, evenly spaced at about `step`."""
    total = sum(math.dist(a, b) for a, b in pairwise(points))
    count = max(2, round(total / step) + 1)
    out, walked, k = [points[0]], 0.0, 0
    for number in range(1, count - 1):
        goal = total * number / (count - 1)
        while k < len(points) - 2 and walked + math.dist(points[k], points[k + 1]) < goal:
            walked += math.dist(points[k], points[k + 1])
            k += 1
        leg = math.dist(points[k], points[k + 1]) or 1.0
        share = (goal - walked) / leg
        a, b = points[k], points[k + 1]
        out.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
    return [*out, points[-1]]


def waves(rng: Random, count: int, period: float) -> list[float]:
    """A smooth random run with variance 1: three sines of about `period` points."""
    parts = [(rng.uniform(0.6, 1.6) * 2 * math.pi / period, rng.uniform(0, 2 * math.pi)) for _ in range(3)]
    return [math.sqrt(2 / 3) * sum(math.sin(f * k + p) for f, p in parts) for k in range(count)]


def written(strokes: Strokes, hand: Habit, rng: Random) -> list[list[tuple[float, float, float]]]:
    """Ink of these strokes by this hand: (x, y, milliseconds), with the habit's own shake in it."""
    bends = [(rng.gauss(0, 0.03), rng.gauss(0, 0.03), rng.uniform(0, 6.28), rng.gauss(0, 1)) for _ in range(3)]
    cos, sin = math.cos(hand.turn), math.sin(hand.turn)
    at, ink = 0.0, []
    for stroke in strokes:
        points = along(stroke, hand.speed / hand.rate)
        period = WAVE * hand.rate / hand.speed
        shake_x, shake_y = waves(rng, len(points), period), waves(rng, len(points), period)
        run = []
        for (x, y), dx, dy in zip(points, shake_x, shake_y, strict=True):
            x = (x - 25) * hand.widen - hand.slant * (y - 50)
            y = y - 50
            swing = 100 * hand.bend * sum(size * math.sin(a * x + b * y + p) for a, b, p, size in bends)
            x, y = cos * x - sin * y + swing, sin * x + cos * y + swing * 0.6
            run.append((x + 100 * hand.wobble * dx, y + 50 + 100 * hand.wobble * dy, at))
            at += 1000 / hand.rate
        ink.append(run)
        at += 250
    return ink


Change = Callable[[Strokes, Random], Strokes]


def turned_round(strokes: Strokes, rng: Random) -> Strokes:
    """As in a looking-glass."""
    return [[(50 - x, y) for x, y in stroke] for stroke in strokes]


def backwards(number: int) -> Change:
    """One stroke run from its end to its start."""
    return lambda strokes, rng: [stroke[::-1] if k == number else stroke for k, stroke in enumerate(strokes)]


def swapped(strokes: Strokes, rng: Random) -> Strokes:
    return strokes[::-1]


def joined(strokes: Strokes, rng: Random) -> Strokes:
    """No lift between the strokes: the way through the air is ink, too."""
    return [sum((line(a[-1], b[0])[1:-1] + b for a, b in pairwise(strokes)), list(strokes[0]))]


def lifted(strokes: Strokes, rng: Random) -> Strokes:
    """A lift somewhere in the longest stroke."""
    k = max(range(len(strokes)), key=lambda i: len(strokes[i]))
    fine = along(strokes[k], 3)
    cut = rng.randrange(len(fine) // 4, 3 * len(fine) // 4)
    return [*strokes[:k], fine[: cut + 1], fine[cut:], *strokes[k + 1 :]]


def dotted(strokes: Strokes, rng: Random) -> Strokes:
    """One to three accidental touches of a palm."""
    dots: Strokes = []
    for _ in range(rng.randint(1, 3)):
        x, y = rng.uniform(-40, 100), rng.uniform(-20, 130)
        dots.append([(x, y), (x + rng.uniform(0, 3), y + rng.uniform(0, 3))])
    return [*dots[:1], *strokes, *dots[1:]]


def first_part(share: float) -> Change:
    """Only this share of the ink, in the order of writing."""

    def change(strokes: Strokes, rng: Random) -> Strokes:
        fine = [along(stroke, 2) for stroke in strokes]
        left, kept = int(share * sum(map(len, fine))), []
        for stroke in fine:
            if left > 2:
                kept.append(stroke[:left])
            left -= len(stroke)
        return kept

    return change


def left_open(at_start: bool = False) -> Change:
    """A ring cut short until its end stays 20 to 28 units away from where it should close; 9 at its start."""

    def change(strokes: Strokes, rng: Random) -> Strokes:
        fine = along(strokes[0][::-1] if at_start else strokes[0], 1)
        goal = rng.uniform(20, 28)
        is_ring = math.dist(fine[0], fine[-1]) < 5
        while len(fine) > 60 and min(math.dist(fine[-1], p) for p in fine[: 20 if is_ring else -45]) < goal:
            fine.pop()
        return [fine[::-1] if at_start else fine, *strokes[1:]]

    return change


def from_the_bottom(strokes: Strokes, rng: Random) -> Strokes:
    """A closed first stroke begun at its lowest point, same way round; any other run backwards."""
    fine = along(strokes[0], 2)
    if math.dist(fine[0], fine[-1]) > 5:
        return [strokes[0][::-1], *strokes[1:]]
    low = max(range(len(fine)), key=lambda k: fine[k][1])
    return [fine[low:] + fine[1 : low + 1], *strokes[1:]]


def scribble(rng: Random) -> Strokes:
    """Three to nine random corners, smoothed or not: no symbol at all."""
    strokes = []
    for _ in range(rng.randint(1, 2)):
        corners = [(rng.uniform(0, 90), rng.uniform(0, 100)) for _ in range(rng.randint(5, 12))]
        points = along(line(*corners), 3)
        if rng.random() < 0.6:
            points = [
                (sum(p[0] for p in points[max(0, k - 4) : k + 5]) / len(points[max(0, k - 4) : k + 5]),
                 sum(p[1] for p in points[max(0, k - 4) : k + 5]) / len(points[max(0, k - 4) : k + 5]))
                for k in range(len(points))
            ]  # fmt: skip
        strokes.append(points)
    return strokes


def sample(
    symbol: str, rng: Random, change: Change | None = None, style: int | None = None, wobble: float = 0.02,
    rate: float | None = None,
) -> list[list[tuple[float, float, float]]]:  # fmt: skip
    """One sample of a symbol by a new writer; `change` is made to the strokes before they are written."""
    hand = habit(rng, wobble)
    if rate is not None:
        hand = replace(hand, rate=rate)
    strokes = skeleton(symbol, rng, style)
    return written(change(strokes, rng) if change else strokes, hand, rng)
