"""Was it formed well? Start, direction, order, closure and place on the lines, by plain geometry on the ink."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from game.core.writing.curves import Line, length, spaced
from game.core.writing.forms import Form
from game.core.writing.matching import CLOSED_GAP, Fit, backwards, fit, model_signature, signature, warped
from game.core.writing.strokes import Box, box_of

Slip = Literal[
    "nothing written",
    "mirrored",
    "other symbol",
    "started at the bottom",
    "stroke reversed",
    "started elsewhere",
    "order",
    "not closed",
    "no dot",
    "off the line",
    "too large",
    "too small",
]

START_SHIFT = 0.4
"""A start farther from the taught one than this share of the longer side is a start elsewhere."""
OPEN_GAP = 0.16
"""An end that should meet the stroke and stays farther away than this share of the height leaves it open."""
TOUCH = 0.03
LOOK_BACK = 0.35
OFF_LINE = 0.2
TOO_LARGE, TOO_SMALL = 1.3, 0.7
REVERSED_COST, ORDER_COST, OTHER_FORM_COST = 0.03, 0.02, 0.01


@dataclass(frozen=True)
class Ruling:
    """Where the top line and the base line lie in the ink's own unit, and the places to write in from left to right."""

    top: float
    base: float
    places: tuple[tuple[float, float], ...] = ()

    def __post_init__(self) -> None:
        if not (math.isfinite(self.top) and math.isfinite(self.base) and self.base > self.top):
            raise ValueError(f"ruling: top {self.top!r} must lie above base {self.base!r} (y grows downwards)")

    def level(self, y: float) -> float:
        """0 on the top line, 1 on the base line."""
        return (y - self.top) / (self.base - self.top)


@dataclass(frozen=True)
class StrokeVerdict:
    """One stroke of the form. Lengths are in heights of the whole symbol; top and bottom in ruling units."""

    number: int
    written_as: int | None
    start: Literal["as taught", "at the bottom", "elsewhere"]
    direction: Literal["forward", "reversed"]
    in_order: bool
    closed: bool | None
    deviation: float
    height: float
    top: float | None
    bottom: float | None


@dataclass(frozen=True)
class Formation:
    """Which form it was, what each stroke did, and every slip, most helpful first."""

    form: str
    strokes: tuple[StrokeVerdict, ...]
    slips: tuple[Slip, ...]


def formation(
    ink: Sequence[Line], forms: Sequence[Form], ruling: Ruling | None, dots: Sequence[Line] = ()
) -> Formation:
    """Judge ink that has the right shape against the forms that are good for this hand, the taught one first."""
    fits = [(form, form.body, fit(ink, form.body)) for form in _same_count(ink, forms)]
    form, body, found = min(fits, key=lambda each: _cost(each[0], each[2], forms[0]))
    strokes = tuple(_stroke_verdict(number, body, found, ink, ruling) for number in range(len(body)))
    slips = _slips(strokes)
    if len(body) < len(form.strokes) and not _dotted(ink, dots):
        slips.append("no dot")
    if ruling is not None:
        slips += _place_slips(box_of(ink), form, ruling)
    return Formation(form.name, strokes, tuple(slips))


def _same_count(ink: Sequence[Line], forms: Sequence[Form]) -> list[Form]:
    same = [form for form in forms if len(form.body) == len(ink)]
    return same if forms[0] in same else [*same, forms[0]]


def _cost(form: Form, found: Fit, taught: Form) -> float:
    ordered = list(found.order) == sorted(found.order)
    return (
        found.cost
        + REVERSED_COST * sum(found.reversed) / len(found.reversed)
        + (0.0 if ordered else ORDER_COST)
        + (0.0 if form is taught else OTHER_FORM_COST)
    )


def _stroke_verdict(
    number: int, body: tuple[Line, ...], found: Fit, ink: Sequence[Line], ruling: Ruling | None
) -> StrokeVerdict:
    backward = found.reversed[number]
    rank = found.order[number]
    expected = sorted(found.order).index(rank) == number
    verdict = StrokeVerdict(
        number + 1,
        None,
        "as taught",
        "reversed" if backward else "forward",
        expected,
        None,
        found.cost,
        0.0,
        None,
        None,
    )
    if found.joined:
        return verdict
    line, model = found.lines[number], body[number]
    whole, model_whole = box_of(ink), box_of(body)
    mine, theirs = signature(line, whole), model_signature(model, model_whole)
    place = box_of([line])
    return replace(
        verdict,
        written_as=rank + 1,
        start=_start(line, model, whole, model_whole),
        closed=_closed(line, model),
        deviation=warped(backwards(mine) if backward else mine, theirs),
        height=place.height / max(whole.height, 1e-9),
        top=None if ruling is None else ruling.level(place.top),
        bottom=None if ruling is None else ruling.level(place.bottom),
    )


def _start(line: Line, model: Line, whole: Box, model_whole: Box) -> Literal["as taught", "at the bottom", "elsewhere"]:
    mine, theirs = _placed(line[0], whole), _placed(model[0], model_whole)
    if math.dist(mine, theirs) <= START_SHIFT:
        return "as taught"
    own, taught = (line[0][1] - whole.top) / whole.size, (model[0][1] - model_whole.top) / model_whole.size
    return "at the bottom" if own - taught > START_SHIFT and own > 0.55 else "elsewhere"


def _placed(point: tuple[float, float], box: Box) -> tuple[float, float]:
    return (point[0] - (box.left + box.right) / 2) / box.size, (point[1] - (box.top + box.bottom) / 2) / box.size


def _closed(line: Line, model: Line) -> bool | None:
    """Whether the ends meet each other, or the stroke, where the model's do; None if the model has no such end."""
    if math.dist(model[0], model[-1]) <= CLOSED_GAP * box_of([model]).size:
        return _ring_gap(line) <= OPEN_GAP
    wanted = _closing_ends(model)
    if not wanted:
        return None
    return all(_end_gap(line, end) <= OPEN_GAP for end in _either_way(line, wanted))


def _ring_gap(line: Line) -> float:
    """How near the last fifth of a stroke comes to its first fifth, in lengths of its longer side."""
    points = spaced(line, 50)
    head, tail = points[:11], points[-10:]
    return min(_to_leg(p, a, b) for p in tail for a, b in pairwise(head)) / box_of([points]).size


@lru_cache(maxsize=1024)
def _closing_ends(model: Line) -> tuple[bool, ...]:
    """The ends of a form's stroke (False its start, True its end) that meet the stroke itself."""
    return tuple(end for end in (False, True) if _end_gap(model, end) < TOUCH)


def _either_way(line: Line, wanted: tuple[bool, ...]) -> tuple[bool, ...]:
    """The ends to ask of ink: a stroke run backwards closes at its other end, whichever end closes better."""
    if len(wanted) == 2:
        return wanted
    return (min((False, True), key=lambda end: _end_gap(line, end)),)


def _end_gap(line: Line, at_end: bool) -> float:
    """How near the last tenth of a stroke comes to the rest of it, in heights of the stroke."""
    points = spaced(line[::-1] if at_end else line, 60)
    size = box_of([points]).size
    step = length(points) / 59 / size
    tail = max(1, min(6, round(0.1 * 59)))
    skip = max(2, math.ceil(LOOK_BACK / step)) if step > 0 else 59
    gaps = [_to_leg(points[i], a, b) for i in range(tail) for a, b in pairwise(points[i + skip :])]
    return min(gaps, default=math.inf) / size


def _to_leg(p: tuple[float, float], a: tuple[float, float], b: tuple[float, float]) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    share = 0.0 if square == 0 else max(0.0, min(1.0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square))
    return math.hypot(p[0] - a[0] - share * dx, p[1] - a[1] - share * dy)


def _slips(strokes: tuple[StrokeVerdict, ...]) -> list[Slip]:
    backward = [stroke for stroke in strokes if stroke.direction == "reversed"]
    slips: list[Slip] = []
    if any(stroke.start == "at the bottom" for stroke in strokes):
        slips.append("started at the bottom")
    if any(stroke.start != "at the bottom" for stroke in backward):
        slips.append("stroke reversed")
    if any(stroke.start == "elsewhere" and stroke.direction == "forward" for stroke in strokes):
        slips.append("started elsewhere")
    if not all(stroke.in_order for stroke in strokes):
        slips.append("order")
    if any(stroke.closed is False for stroke in strokes):
        slips.append("not closed")
    return slips


def _dotted(ink: Sequence[Line], dots: Sequence[Line]) -> bool:
    """Some dot lies above the middle of the ink."""
    box = box_of(ink)
    return any(line[0][1] < box.top + 0.3 * box.height for line in dots)


def _place_slips(box: Box, form: Form, ruling: Ruling) -> list[Slip]:
    model = box_of(form.body)
    slips: list[Slip] = []
    if abs(ruling.level(box.bottom) - model.bottom) > OFF_LINE:
        slips.append("off the line")
    share = box.height / (ruling.base - ruling.top) / model.height
    if share > TOO_LARGE:
        slips.append("too large")
    if share < TOO_SMALL:
        slips.append("too small")
    return slips
