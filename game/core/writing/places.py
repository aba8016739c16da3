"""Splitting one run of ink into the symbols of a word or of a numeral of two digits."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from game.core.writing.curves import Line, length
from game.core.writing.formation import Ruling
from game.core.writing.forms import Form
from game.core.writing.strokes import DOT_SHARE, box_of

OVERLAP = 0.35
"""Strokes that share more than this part of the narrower one's width belong to one symbol."""
MOST_CLUSTERS = 12
DRAWN_DOT = 0.4
"""The dot of an i may be drawn as a small stroke: up to this share of the length of its stem."""
_STEPS = 12


@dataclass(frozen=True)
class Part:
    """The ink of one symbol, from left to right; `dots` are those above it."""

    strokes: tuple[Line, ...]
    dots: tuple[Line, ...] = ()


def with_drawn_dot(part: Part) -> Part:
    """The same ink, a small stroke that lies wholly above the longest one counted as a dot."""
    stem = max(part.strokes, key=length)
    top = box_of([stem]).top
    drawn = [s for s in part.strokes if length(s) < DRAWN_DOT * length(stem) and box_of([s]).bottom < top]
    return Part(tuple(s for s in part.strokes if s not in drawn), (*part.dots, *drawn))


Loss = Callable[[Sequence[Line], str], float]


def split(
    ink: Sequence[Line], dots: Sequence[Line], symbols: str, model: Sequence[Form], ruling: Ruling | None, loss: Loss
) -> tuple[Part, ...] | None:
    """A part for every symbol, or None if there is too little ink for them.

    The ruling's places decide where it has them; else strokes that overlap go together, the cheapest way to hand the
    rest out is taken (`loss` of strokes for a symbol), and joined symbols are cut near where the model's edges lie.
    """
    if ruling is not None and len(ruling.places) >= len(symbols):
        edges = [(a[1] + b[0]) / 2 for a, b in pairwise(ruling.places[: len(symbols)])]
        groups = _between(_cut(ink, edges), edges)
    else:
        clusters = _clusters(ink)
        if len(clusters) < len(symbols):
            edges = _edges(ink, model)
            groups = _between(_cut(ink, edges), edges)
        else:
            groups = [_as_written(group, ink) for group in _handed_out(clusters[:MOST_CLUSTERS], symbols, loss)]
    if not all(groups):
        return None
    return tuple(Part(tuple(group), _dots_of(group, groups, dots)) for group in groups)


def _as_written(group: Sequence[Line], ink: Sequence[Line]) -> list[Line]:
    """The strokes of a group in the order in which they were written."""
    return [line for line in ink if line in group]


def _clusters(ink: Sequence[Line]) -> list[list[Line]]:
    """Strokes from left to right, those that lie above or across each other together."""
    clusters: list[list[Line]] = []
    for line in sorted(ink, key=lambda line: sum(x for x, _ in line) / len(line)):
        box = box_of([line])
        if clusters:
            last = box_of(clusters[-1])
            shared = min(box.right, last.right) - max(box.left, last.left)
            narrow = max(min(box.width, last.width), 1e-9)
            crossing = min(box.width, last.width) < 0.05 * last.size and shared >= 0
            if shared > OVERLAP * narrow or crossing:
                clusters[-1].append(line)
                continue
        clusters.append([line])
    return clusters


def _handed_out(clusters: list[list[Line]], symbols: str, loss: Loss) -> list[list[Line]]:
    """The cheapest division of neighbours into as many groups as there are symbols (dynamic programming)."""
    if len(clusters) == len(symbols):
        return clusters
    spare = len(clusters) - len(symbols)
    best: dict[int, tuple[float, list[list[Line]]]] = {0: (0.0, [])}
    for number, symbol in enumerate(symbols):
        found: dict[int, tuple[float, list[list[Line]]]] = {}
        last = number == len(symbols) - 1
        for begin, (cost, groups) in best.items():
            ends = [len(clusters)] if last else range(begin + 1, min(begin + spare + 1, len(clusters)) + 1)
            for end in ends:
                group = [line for cluster in clusters[begin:end] for line in cluster]
                total = cost + (loss(group, symbol) if group else 1e6)
                if end not in found or total < found[end][0]:
                    found[end] = (total, [*groups, group])
        best = found
    return best[len(clusters)][1]


def _edges(ink: Sequence[Line], model: Sequence[Form]) -> list[float]:
    """Where symbols should part, by the widths of the model stretched over the ink, moved to the thinnest ink near."""
    box = box_of(ink)
    widths = [max(form.width, 0.12) + 0.2 for form in model]
    at, edges = 0.0, []
    for width in widths[:-1]:
        at += width
        edges.append(box.left + at / sum(widths) * box.width)
    reach = 0.35 * box.width / len(widths)
    return [min(_near(edge, reach), key=lambda x: (_ink_at(ink, x, reach / 4), abs(x - edge))) for edge in edges]


def _near(edge: float, reach: float) -> list[float]:
    return [edge + reach * (step / _STEPS * 2 - 1) for step in range(_STEPS + 1)]


def _ink_at(ink: Sequence[Line], x: float, half: float) -> float:
    """Length of ink within `half` to either side of x."""
    legs = (leg for line in ink for leg in pairwise(line))
    return sum(length(leg) for leg in legs if abs((leg[0][0] + leg[1][0]) / 2 - x) < half)


def _cut(ink: Sequence[Line], edges: Sequence[float]) -> list[Line]:
    """Every stroke cut where it crosses an edge; bits too short to mean anything are left out."""
    pieces: list[Line] = []
    for line in ink:
        piece = [line[0]]
        for a, b in pairwise(line):
            crossed = [x for x in edges if (a[0] - x) * (b[0] - x) < 0]
            for x in sorted(crossed, reverse=b[0] < a[0]):
                share = (x - a[0]) / (b[0] - a[0])
                meeting = (x, a[1] + share * (b[1] - a[1]))
                pieces.append((*piece, meeting))
                piece = [meeting]
            piece.append(b)
        pieces.append(tuple(piece))
    least = 1.5 * DOT_SHARE * max(length(line) for line in ink)
    return [piece for piece in pieces if length(piece) >= least]


def _between(pieces: Sequence[Line], edges: Sequence[float]) -> list[list[Line]]:
    groups: list[list[Line]] = [[] for _ in range(len(edges) + 1)]
    for piece in pieces:
        box = box_of([piece])
        middle = (box.left + box.right) / 2
        groups[sum(middle > edge for edge in edges)].append(piece)
    return groups


def _dots_of(group: list[Line], groups: list[list[Line]], dots: Sequence[Line]) -> tuple[Line, ...]:
    """The dots that lie nearest to this group, from side to side."""

    def away(dot: Line, lines: list[Line]) -> float:
        box = box_of(lines)
        return abs(dot[0][0] - (box.left + box.right) / 2)

    return tuple(dot for dot in dots if min(groups, key=lambda lines: away(dot, lines)) is group)
