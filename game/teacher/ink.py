"""Ink of writing tasks: finds it by attempt id in ink.jsonl and draws it with start dots and arrows."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Container, Iterator, Sequence
from itertools import pairwise
from pathlib import Path

from game.core.ink import FILE_NAME as FILE_NAME
from game.core.ink import Ink, from_line

_ID_FIRST = re.compile(rb'\s*\{\s*"attempt_id"\s*:\s*"([^"\\]*)"')
BOX = 100.0
PAD = 12.0
APART = 1.6
"""Points nearer than this (in parts of a hundred of the box) are left out of a drawing."""
Points = Sequence[tuple[float, float]]


def attempt_of(line: bytes) -> str | None:
    """The attempt id of one line of ink; None when the line is not whole."""
    if not line.rstrip().endswith(b"}"):
        return None
    found = _ID_FIRST.match(line)
    if found:
        return found[1].decode("utf-8", errors="replace")
    try:
        held = json.loads(line)
    except ValueError:
        return None
    given = held.get("attempt_id") if isinstance(held, dict) else None
    return given if isinstance(given, str) else None


def owner_of(line: bytes) -> str | None:
    """The attempt that a line belongs to, even when the line is torn behind the id."""
    found = _ID_FIRST.match(line)
    return found[1].decode("utf-8", errors="replace") if found else attempt_of(line)


def lines_of(path: Path, wanted: Container[str] | None = None) -> Iterator[tuple[str, bytes]]:
    """The whole lines of an ink file by attempt id, each with its line end; `wanted`: only those. None when no file."""
    if not path.exists():
        return
    with path.open("rb") as handle:
        for line in handle:
            attempt_id = attempt_of(line)
            if attempt_id is not None and (wanted is None or attempt_id in wanted):
                yield attempt_id, line.rstrip(b"\r\n") + b"\n"


class InkBook:
    """Where each attempt's ink stands in the file; the ink itself is read only when it is asked for."""

    def __init__(self, path: Path, progress: Callable[[float], None] = lambda done: None) -> None:
        self._path = path
        self._at: dict[str, int] = {}
        self.unreadable = 0
        if not path.exists():
            return
        size = max(1, path.stat().st_size)
        offset = 0
        with path.open("rb") as handle:
            for number, line in enumerate(handle):
                attempt = attempt_of(line)
                if attempt is not None:
                    self._at.setdefault(attempt, offset)
                elif line.strip():
                    self.unreadable += 1
                offset += len(line)
                if number % 5000 == 0:
                    progress(offset / size)

    @property
    def ids(self) -> frozenset[str]:
        return frozenset(self._at)

    def drawing(self, attempt_id: str) -> str:
        """The drawing of an attempt's ink; empty when there is none or it cannot be read."""
        if attempt_id not in self._at:
            return ""
        with self._path.open("rb") as handle:
            handle.seek(self._at[attempt_id])
            try:
                return drawing(from_line(handle.readline().decode("utf-8", "replace")))
            except ValueError:
                return ""


def drawing(written: Ink) -> str:
    """The inside of an SVG of BOX x BOX: the ruling, each stroke, its start dot, an arrow on its way. Numbers only."""
    strokes = [[(x, y) for x, y, _ in stroke] for stroke in written.strokes]
    strokes = [s for s in strokes if s and all(math.isfinite(v) for point in s for v in point)]
    if not strokes:
        return ""
    scale, left, top = _fit(strokes, written.lines)
    fitted = [_thin([(x * scale + left, y * scale + top) for x, y in stroke]) for stroke in strokes]
    parts = [_ruling(y * scale + top) for y in written.lines or ()]
    for line in fitted:
        path = " ".join(f"{x:.0f},{y:.0f}" for x, y in line)
        parts.append(f'<polyline class="ink" points="{path}"/>')
    for number, line in enumerate(fitted, 1):
        x, y = line[0]
        parts.append(f'{_arrow(line)}<circle class="dot" cx="{x:.0f}" cy="{y:.0f}" r="6"/>')
        if len(fitted) > 1:
            parts.append(f'<text class="turn" x="{x:.0f}" y="{y + 3.3:.1f}" text-anchor="middle">{number}</text>')
    return "".join(parts)


def _ruling(y: float) -> str:
    return f'<line class="rule" x1="0" x2="{BOX:.0f}" y1="{y:.1f}" y2="{y:.1f}"/>'


def _fit(strokes: Sequence[Points], lines: tuple[float, float] | None) -> tuple[float, float, float]:
    """Scale and shift that bring ink and ruling into the middle of the box, the longer side filling it."""
    xs = [x for s in strokes for x, _ in s]
    ys = [y for s in strokes for _, y in s] + [y for y in lines or () if math.isfinite(y)]
    span = max(max(xs) - min(xs), max(ys) - min(ys), 1e-6)
    scale = (BOX - 2 * PAD) / span
    left = (BOX - (max(xs) - min(xs)) * scale) / 2 - min(xs) * scale
    top = (BOX - (max(ys) - min(ys)) * scale) / 2 - min(ys) * scale
    return scale, left, top


def _thin(stroke: Points) -> list[tuple[float, float]]:
    thinned = [stroke[0]]
    for point in stroke[1:-1]:
        if math.dist(point, thinned[-1]) >= APART:
            thinned.append(point)
    if len(stroke) > 1:
        thinned.append(stroke[-1])
    return thinned


def _arrow(line: Points) -> str:
    """An arrow head a third of the way along, pointing the way the hand went; none on a dot."""
    total = sum(math.dist(a, b) for a, b in pairwise(line))
    if total < 15:
        return ""
    before, (x, y), after = (_along(line, total * share) for share in (0.28, 0.34, 0.40))
    angle = math.degrees(math.atan2(after[1] - before[1], after[0] - before[0]))
    return f'<path class="way" d="M-5-6L7 0L-5 6Z" transform="translate({x:.0f} {y:.0f}) rotate({angle:.0f})"/>'


def _along(line: Points, way: float) -> tuple[float, float]:
    """The point at `way` from the start, measured along the line."""
    for a, b in pairwise(line):
        leg = math.dist(a, b)
        if leg >= way:
            share = way / leg if leg else 0.0
            return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
        way -= leg
    return line[-1]
