"""Which symbol a drawing looks like: the two small networks of levels/forms/shape_weights.json."""

import json
import math
from collections.abc import Sequence
from dataclasses import dataclass
from operator import mul
from pathlib import Path
from typing import Any

from game.core.writing.curves import Line
from game.core.writing.features import PICTURE_SIZE, TRACE_SIZE, picture, trace
from game.core.writing.strokes import mirrored

NONE = "none"
NUMERALS = tuple("0123456789")
CLASS_OF = {"o": "0", "i": "1"}
"""Letters that have the shape of a numeral; size, place or a dot tell them apart."""
TRACE_SHARE = 0.5
"""How much the trace counts beside the picture: half, since order and direction must not decide."""

Scores = dict[str, float]


@dataclass(frozen=True)
class _Network:
    hidden: list[list[float]]
    hidden_bias: list[float]
    out: list[list[float]]
    out_bias: list[float]

    def log_chances(self, values: list[float]) -> list[float]:
        inner = [
            max(0.0, sum(map(mul, row, values)) + bias) for row, bias in zip(self.hidden, self.hidden_bias, strict=True)
        ]
        outer = [sum(map(mul, row, inner)) + bias for row, bias in zip(self.out, self.out_bias, strict=True)]
        return _normalised(outer)


def _normalised(values: list[float]) -> list[float]:
    most = max(values)
    total = most + math.log(sum(math.exp(value - most) for value in values))
    return [value - total for value in values]


@dataclass(frozen=True)
class Shapes:
    """Gives each class the logarithm of its chance: numerals, letters, mirrored numerals ("m3") and "none"."""

    classes: tuple[str, ...]
    by_picture: _Network
    by_trace: _Network

    def scores(self, lines: Sequence[Line]) -> Scores:
        """For clean strokes of which one at least has some length."""
        seen = self.by_picture.log_chances(picture(lines))
        run = self.by_trace.log_chances(trace(lines))
        both = [a + TRACE_SHARE * b for a, b in zip(seen, run, strict=True)]
        return dict(zip(self.classes, _normalised(both), strict=True))

    def mirror_margin(self, lines: Sequence[Line], symbol: str, scores: Scores) -> float:
        """How much more the drawing is `symbol` than its mirror image; below 0 it is mirrored.

        Asked both ways: of the drawing and, the other way round, of its reflection.
        """
        own, mirror = CLASS_OF.get(symbol, symbol), "m" + symbol
        if mirror not in self.classes:
            return math.inf
        flipped = self.scores(mirrored(lines))
        return (scores[own] - scores[mirror] + flipped[mirror] - flipped[own]) / 2


def load_shapes(path: Path) -> Shapes:
    """Read the weights; ValueError with the file's name if they do not fit."""
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
        classes = tuple(str(name) for name in data["classes"])
        scale = float(data["scale"])
        networks = [_network(data[part], scale) for part in ("picture", "trace")]
        widths = [len(network.hidden[0]) for network in networks]
    except (OSError, ValueError, KeyError, TypeError, IndexError) as error:
        raise ValueError(f"{path}: no weights can be read ({error!r}); run make_weights.py") from error
    if widths != [PICTURE_SIZE, TRACE_SIZE] or len(networks[0].out) != len(classes):
        raise ValueError(f"{path}: sizes {widths} do not fit {[PICTURE_SIZE, TRACE_SIZE]}; run make_weights.py")
    return Shapes(classes, networks[0], networks[1])


def _network(table: dict[str, Any], scale: float) -> _Network:
    def rows(key: str) -> list[list[float]]:
        return [[value / scale for value in row] for row in table[key]]

    def row(key: str) -> list[float]:
        return [value / scale for value in table[key]]

    return _Network(rows("hidden"), row("hidden_bias"), rows("out"), row("out_bias"))
