"""Count out: put so many things onto the tray, and say that it is done.

The child makes the answer: things go from the pile to the tray and back, one by one, as often as it likes.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from game.core import layout, phrases
from game.core.records import Form, Step, Task, Verdict
from game.core.tasks.kind import NOTHING, Clips, Kind, Past, off_by, pick_number, pick_thing, several

PILE = 12
"""Things in the pile: more than ten, so that putting all of them is never right."""
ALL = "put all of them"
NONE_PUT = "put none"
COLUMNS = 6
ACROSS, DOWN = 96.0, 96.0
TRAY_BOX = layout.Box(340, 130, 600, 192)
PILE_BOX = layout.Box(340, 412, 600, 192)


def grid(box: layout.Box) -> tuple[layout.Point, ...]:
    """PILE centres in two rows of six, in page units, side by side and not touching."""
    cx, cy = box.centre
    left, top = cx - ACROSS * (COLUMNS - 1) / 2, cy - DOWN / 2
    return tuple((left + ACROSS * (i % COLUMNS), top + DOWN * (i // COLUMNS)) for i in range(PILE))


def fives_first(places: tuple[layout.Point, ...]) -> tuple[layout.Point, ...]:
    """The same places with five of each row first, so that what lies there is seen as five and some more."""
    return tuple(sorted(places, key=lambda place: (places.index(place) % COLUMNS) // 5))


@dataclass(frozen=True, kw_only=True)
class CountOut(Task):
    """`number` things belong on the tray. `pile` are the centres of the things, `slots` where they snap to."""

    pile: tuple[layout.Point, ...]
    slots: tuple[layout.Point, ...]


@dataclass(frozen=True, slots=True)
class CountOutResponse:
    """`placed`: how many things lie on the tray (0 to PILE)."""

    placed: int


def make(step: Step, form: Form, reason: str, rng: Random, last: Task | None, past: Past = NOTHING) -> CountOut:
    number = pick_number(step, rng, last, past, met_now=reason == "new")
    thing = pick_thing(rng, last)
    return CountOut(
        step=step,
        form="constructed",
        reason=reason,
        number=number,
        answer=number,
        thing=thing,
        prompt=(phrases.ask_put(number),),
        shown=f"a pile of {several(PILE, thing)}",
        asked=f"put {number} on the tray",
        pile=grid(PILE_BOX),
        slots=fives_first(grid(TRAY_BOX)),
    )


def judge(task: CountOut, response: CountOutResponse) -> Verdict:
    placed = response.placed
    error = off_by(placed, task.number)
    if error and placed == PILE:
        error = ALL
    elif error and placed == 0:
        error = NONE_PUT
    return Verdict(placed == task.number, str(placed), error)


def hint(task: CountOut, verdict: Verdict) -> Clips:
    if task.number == 0:
        return (phrases.HINT_EMPTY_TRAY,)
    too_many = verdict.answered.isdigit() and int(verdict.answered) > task.number
    return (phrases.HINT_TOO_MANY if too_many else phrases.HINT_TOO_FEW, phrases.HINT_COUNT_OUT)


def confirm(task: CountOut) -> Clips:
    return (phrases.total(task.number, task.thing),)


def respond(task: CountOut, answer: int) -> CountOutResponse:
    return CountOutResponse(answer)


KIND = Kind(
    id="count_out",
    title="Count out",
    forms=("constructed",),
    ways=("",),
    lowest=0,
    highest=10,
    needs_arrangement=False,
    make=make,
    judge=judge,
    hint=hint,
    confirm=confirm,
    respond=respond,
    praise=(phrases.PRAISE_EACH, phrases.PRAISE_STEADY),
)
