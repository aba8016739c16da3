"""Which has more, which has fewer, or are they the same? Two sets side by side, later two numerals.

Neither the size of the things nor their spacing tells: the larger set has the larger things, and the wider place, as
often as the smaller one has. Equal sets come, too.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import Literal

from game.core import layout, phrases
from game.core.records import Form, Step, Task, Verdict
from game.core.tasks.kind import NOTHING, Clips, Kind, Past, pick_number, pick_thing

MORE, FEWER, SETS, NUMERALS = "more", "fewer", "sets", "numerals"
LEFT, RIGHT, SAME = 0, 1, 2
EQUAL_SHARE = 0.25
"""How often the two are the same; the other times left and right are right alike."""
SMALL, LARGE = 60.0, 80.0
"""Sides of the things, in page units."""
LEFT_BOX, RIGHT_BOX = layout.Box(119, 68, 472, 544), layout.Box(689, 68, 472, 544)
NARROW = 0.85
"""What the sides of the narrower place are multiplied by."""
MORE_FOR_FEWER = "took the one with more"
FEWER_FOR_MORE = "took the one with fewer"
CALLED_SAME = "called them the same"
WERE_SAME = "did not see that they are the same"


@dataclass(frozen=True, kw_only=True)
class WhichMore(Task):
    """Two numbers; `number` is one of them. `answer` is LEFT, RIGHT or SAME. Places are none for numerals.

    `sizes` are the sides of the things left and right, in page units.
    """

    ask: Literal["more", "fewer"]
    numbers: tuple[int, int]
    places: tuple[tuple[layout.Point, ...], tuple[layout.Point, ...]]
    sizes: tuple[float, float]

    @property
    def numerals(self) -> bool:
        return self.step.way == NUMERALS


@dataclass(frozen=True, slots=True)
class WhichResponse:
    """`side`: LEFT, RIGHT or SAME."""

    side: int


def make(step: Step, form: Form, reason: str, rng: Random, last: Task | None, past: Past = NOTHING) -> WhichMore:
    first = pick_number(step, rng, last, past)
    second = _second(step, first, rng)
    numbers = (first, second) if rng.random() < 0.5 else (second, first)
    ask: Literal["more", "fewer"] = "more" if step.way == MORE else "fewer"
    if step.way in (SETS, NUMERALS):
        ask = rng.choice(("more", "fewer"))
    sizes = rng.choice(((SMALL, LARGE), (LARGE, SMALL)))
    numerals = step.way == NUMERALS
    thing = "" if numerals else pick_thing(rng, last)
    return WhichMore(
        step=step,
        form="choice3",
        reason=reason,
        number=first,
        answer=_answer(numbers, ask),
        choices=(LEFT, RIGHT, SAME),
        thing=thing,
        prompt=(_PROMPTS[numerals, ask],),
        shown=f"{numbers[0]} and {numbers[1]}, {'numerals' if numerals else thing + 's'}",
        asked=f"which is {ask}" if numerals else f"which has {ask}",
        ask=ask,
        numbers=numbers,
        places=((), ()) if numerals else _places(step, numbers, sizes, rng),
        sizes=sizes,
    )


_PROMPTS = {
    (False, "more"): phrases.ASK_WHICH_MORE,
    (False, "fewer"): phrases.ASK_WHICH_FEWER,
    (True, "more"): phrases.ASK_WHICH_GREATER,
    (True, "fewer"): phrases.ASK_WHICH_LESS,
}


def _second(step: Step, first: int, rng: Random) -> int:
    """The other number: now and then the same, else one of the step's, near (1 or 2 apart) or well apart."""
    if rng.random() < EQUAL_SHARE:
        return first
    others = [n for n in step.numbers if n != first]
    apart = [n for n in others if (abs(n - first) <= 2) == step.near]
    return rng.choice(apart or others or [first])


def _answer(numbers: tuple[int, int], ask: str) -> int:
    left, right = numbers
    if left == right:
        return SAME
    return LEFT if (left > right) == (ask == "more") else RIGHT


def _places(
    step: Step, numbers: tuple[int, int], sizes: tuple[float, float], rng: Random
) -> tuple[tuple[layout.Point, ...], tuple[layout.Point, ...]]:
    """As the step has it, or scattered where that would not fit both sides."""
    narrow = rng.randrange(2)
    boxes = [_narrower(box) if side == narrow else box for side, box in enumerate((LEFT_BOX, RIGHT_BOX))]
    arrangement = rng.choice(step.arrangements or ("scattered",))
    left, right = (_fitting(arrangement, numbers[side], rng, boxes[side], sizes[side]) for side in (0, 1))
    if left is None or right is None:
        left, right = (layout.arrange("scattered", numbers[i], rng, boxes[i], sizes[i]) for i in (0, 1))
    return left, right


def _narrower(box: layout.Box) -> layout.Box:
    dx, dy = box.w * (1 - NARROW) / 2, box.h * (1 - NARROW) / 2
    return layout.Box(box.x + dx, box.y + dy, box.w * NARROW, box.h * NARROW)


def _fitting(
    arrangement: str, count: int, rng: Random, box: layout.Box, size: float
) -> tuple[layout.Point, ...] | None:
    """Places in the box, none touching another; None where there is no room for them."""
    try:
        places = layout.arrange(arrangement, count, rng, box, size)
    except ValueError:
        return None
    clear = all(
        max(abs(x - other_x), abs(y - other_y)) > size
        for i, (x, y) in enumerate(places)
        for other_x, other_y in places[:i]
    )
    return places if clear and all(box.inside(place, size / 2) for place in places) else None


def judge(task: WhichMore, response: WhichResponse) -> Verdict:
    side = response.side
    said = "the same" if side == SAME else f"{('left', 'right')[side]} {task.numbers[side]}"
    if side == task.answer:
        return Verdict(True, said)
    if task.answer == SAME:
        return Verdict(False, said, WERE_SAME)
    if side == SAME:
        return Verdict(False, said, CALLED_SAME)
    return Verdict(False, said, FEWER_FOR_MORE if task.ask == "more" else MORE_FOR_FEWER)


def hint(task: WhichMore, verdict: Verdict) -> Clips:
    return (phrases.HINT_LOOK_DOTS,) if task.numerals else (phrases.HINT_PAIR_UP,)


def confirm(task: WhichMore) -> Clips:
    low, high = sorted(task.numbers)
    if low == high:
        return (phrases.same_as(low),)
    return (phrases.fewer_than(low, high),) if task.ask == "fewer" else (phrases.more_than(high, low),)


def respond(task: WhichMore, answer: int) -> WhichResponse:
    """`answer` beyond SAME stands for a wrong one."""
    return WhichResponse(answer if answer <= SAME else (task.answer + 1) % 3)


KIND = Kind(
    id="which_more",
    title="Which has more",
    forms=("choice3",),
    ways=(MORE, FEWER, SETS, NUMERALS),
    lowest=0,
    highest=10,
    needs_arrangement=False,
    make=make,
    judge=judge,
    hint=hint,
    confirm=confirm,
    respond=respond,
    praise=(phrases.PRAISE_CAREFUL, phrases.PRAISE_FIRST),
    arrangements=("array", "circle", "scattered"),
)
