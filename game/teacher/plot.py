"""The line of right answers at first try over time, as the inside of an SVG. Pure: numbers in, text out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from game.teacher.words import short_date

WIDTH, HEIGHT = 640, 170
LEFT, RIGHT, TOP, BOTTOM = 44, 14, 12, 26
BUCKETS = ((21, 1), (150, 7), (10**9, 28))
"""(up to so many days of play, days put together in one dot)."""


@dataclass(frozen=True, slots=True)
class Dot:
    """The first tries of `days` days from `day` on."""

    day: int
    days: int
    tries: int
    right: int

    @property
    def share(self) -> float:
        return self.right / self.tries


def dots(day_tries: Mapping[int, Sequence[int]]) -> tuple[Dot, ...]:
    """Days put together so that the line stays readable; days without a judged first try give no dot."""
    played = sorted(day for day, (tries, _) in day_tries.items() if tries)
    if not played:
        return ()
    first = played[0]
    size = next(days for span, days in BUCKETS if played[-1] - first < span)
    sums: dict[int, list[int]] = {}
    for day in played:
        held = sums.setdefault((day - first) // size, [0, 0])
        held[0] += day_tries[day][0]
        held[1] += day_tries[day][1]
    return tuple(Dot(first + n * size, size, tries, right) for n, (tries, right) in sorted(sums.items()))


def unit(found: Sequence[Dot]) -> str:
    """What one dot stands for."""
    return {1: "a day", 7: "a week", 28: "four weeks"}[found[0].days] if found else ""


def drawing(found: Sequence[Dot]) -> str:
    """Axes, line and dots within WIDTH x HEIGHT. Empty when there is nothing to draw."""
    if not found:
        return ""
    parts = [_rule(share) for share in (0.0, 0.5, 1.0)]
    places = [(_x(dot.day, found), _y(dot.share)) for dot in found]
    if len(places) > 1:
        parts.append('<polyline class="run" points="' + " ".join(f"{x:.1f},{y:.1f}" for x, y in places) + '"/>')
    for dot, (x, y) in zip(found, places, strict=True):
        parts.append(
            f'<circle class="run-dot" cx="{x:.1f}" cy="{y:.1f}" r="3.6">'
            f"<title>{short_date(dot.day)}: {dot.right} of {dot.tries} right at first try</title></circle>"
        )
    parts.append(_label(places[0][0], found[0].day, "start" if len(found) > 1 else "middle"))
    if len(found) > 1:
        parts.append(_label(places[-1][0], found[-1].day, "end"))
    return "".join(parts)


def _x(day: int, found: Sequence[Dot]) -> float:
    span = found[-1].day - found[0].day
    inner = WIDTH - LEFT - RIGHT - 12
    return LEFT + 6 + (inner / 2 if span == 0 else inner * (day - found[0].day) / span)


def _y(share: float) -> float:
    return TOP + (HEIGHT - TOP - BOTTOM) * (1 - share)


def _rule(share: float) -> str:
    y = _y(share)
    return (
        f'<line class="rule" x1="{LEFT}" x2="{WIDTH - RIGHT}" y1="{y:.1f}" y2="{y:.1f}"/>'
        f'<text class="tick" x="{LEFT - 6}" y="{y + 4:.1f}" text-anchor="end">{share:.0%}</text>'
    )


def _label(x: float, day: int, anchor: str) -> str:
    return f'<text class="tick" x="{x:.1f}" y="{HEIGHT - 8}" text-anchor="{anchor}">{short_date(day)}</text>'
