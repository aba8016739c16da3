"""Stroke paths: SVG path data to a fine polyline, and evenly spaced points along one.

Only the absolute commands M L Q C A of SVG 2 (W3C, section 9.3) are read, one M at the start. Units are those
of the ruling: y 0 is the top line, 0.5 the dashed midline, 1 the base line; x has the same scale.
"""

import math
import re
from functools import lru_cache
from itertools import pairwise

Point = tuple[float, float]
Line = tuple[Point, ...]

_TOKEN = re.compile(r"([A-Za-z])|([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)")
_NUMBERS = {"M": 2, "L": 2, "Q": 4, "C": 6, "A": 7}
_PIECES = 40


@lru_cache(maxsize=1024)
def flatten(path: str) -> Line:
    """The path as a fine polyline with every corner kept; ValueError names what cannot be read."""
    points: list[Point] = []
    for command, numbers in commands(path):
        if (command == "M") != (not points):
            raise ValueError(f"path {path!r}: begin with one M and use no other")
        if command in "ML":
            points.append((numbers[0], numbers[1]))
        elif command == "A":
            points.extend(_arc(points[-1], numbers))
        else:
            points.extend(_bezier([points[-1], *zip(numbers[::2], numbers[1::2], strict=True)]))
    if len(points) < 2:
        raise ValueError(f"path {path!r}: a stroke needs at least two points")
    return tuple(points)


def commands(path: str) -> list[tuple[str, list[float]]]:
    """The letters of the path, each with its numbers; ValueError names what cannot be read."""
    found: list[tuple[str, list[float]]] = []
    if _TOKEN.sub("", path).strip(" ,\t\n"):
        raise ValueError(f"path {path!r}: only the letters M L Q C A and numbers can be read")
    for letter, number in _TOKEN.findall(path):
        if letter:
            found.append((letter, []))
        elif not found:
            raise ValueError(f"path {path!r}: begin with M")
        else:
            found[-1][1].append(float(number))
    for letter, numbers in found:
        if len(numbers) != _NUMBERS.get(letter, -1):
            raise ValueError(f"path {path!r}: {letter} with {len(numbers)} numbers cannot be read")
    return found


def _bezier(controls: list[Point]) -> list[Point]:
    """Points of a Bezier curve of any degree after its start (de Casteljau)."""
    line: list[Point] = []
    for step in range(1, _PIECES + 1):
        t, level = step / _PIECES, controls
        while len(level) > 1:
            level = [(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])) for a, b in pairwise(level)]
        line.append(level[0])
    return line


def _arc(start: Point, numbers: list[float]) -> list[Point]:
    """Points of an elliptical arc after its start (SVG 2, appendix B.2.4, endpoint to centre)."""
    rx, ry, turn = abs(numbers[0]), abs(numbers[1]), math.radians(numbers[2])
    large, sweep, (x2, y2) = bool(numbers[3]), bool(numbers[4]), numbers[5:7]
    if rx == 0 or ry == 0:
        return [(x2, y2)]
    cos, sin = math.cos(turn), math.sin(turn)
    dx, dy = (start[0] - x2) / 2, (start[1] - y2) / 2
    px, py = cos * dx + sin * dy, cos * dy - sin * dx
    grow = math.sqrt(max(1.0, (px / rx) ** 2 + (py / ry) ** 2))
    rx, ry = rx * grow, ry * grow
    off = (rx * py) ** 2 + (ry * px) ** 2
    scale = math.sqrt(max(0.0, (rx * ry) ** 2 / off - 1)) if off else 0.0
    if large == sweep:
        scale = -scale
    cx, cy = scale * rx * py / ry, -scale * ry * px / rx
    begin = math.atan2((py - cy) / ry, (px - cx) / rx)
    delta = math.atan2((-py - cy) / ry, (-px - cx) / rx) - begin
    if sweep and delta < 0:
        delta += 2 * math.pi
    elif not sweep and delta > 0:
        delta -= 2 * math.pi
    mx = cos * cx - sin * cy + (start[0] + x2) / 2
    my = sin * cx + cos * cy + (start[1] + y2) / 2
    line: list[Point] = []
    for step in range(1, _PIECES + 1):
        angle = begin + delta * step / _PIECES
        ex, ey = rx * math.cos(angle), ry * math.sin(angle)
        line.append((cos * ex - sin * ey + mx, sin * ex + cos * ey + my))
    return line


def length(line: Line) -> float:
    """Length of a polyline in its own unit."""
    return sum(math.dist(a, b) for a, b in pairwise(line))


def spaced(line: Line, count: int) -> Line:
    """`count` points (2 or more) evenly spaced along the polyline, both ends included."""
    if count < 2:
        raise ValueError(f"{count} points asked of a stroke; ask for 2 or more")
    total = length(line)
    if total == 0:
        return (line[0],) * count
    step, walked, at = total / (count - 1), 0.0, 1
    points = [line[0]]
    a = line[0]
    while len(points) < count - 1 and at < len(line):
        b = line[at]
        leg = math.dist(a, b)
        if walked + leg >= step and leg > 0:
            share = (step - walked) / leg
            a = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
            points.append(a)
            walked = 0.0
        else:
            walked, a, at = walked + leg, b, at + 1
    points.extend([line[-1]] * (count - len(points)))
    return tuple(points)
