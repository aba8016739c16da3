"""Count the set: how many things are there? The child may touch each thing; the answer is a numeral.

Serves the counting principles (Gelman & Gallistel 1978): each kind of error breaks one of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from game.core import layout, phrases
from game.core.records import Form, Step, Task, Verdict
from game.core.tasks.kind import NOTHING, Clips, Kind, Past, choices, off_by, pick_number, pick_thing, several

TWICE = "counted one twice"
LEFT_OUT = "left one out"
CARDINALITY = "counted right, gave another number"
WENT_ON = "went on past the end"


@dataclass(frozen=True, kw_only=True)
class CountSet(Task):
    """`places` are the centres of the things, in page units."""

    arrangement: str
    places: tuple[layout.Point, ...]


@dataclass(frozen=True, slots=True)
class CountResponse:
    """`touched`: the things that the child touched, in order, by index; None stands for a touch beside them."""

    answer: int
    touched: tuple[int | None, ...] = ()


def make(step: Step, form: Form, reason: str, rng: Random, last: Task | None, past: Past = NOTHING) -> CountSet:
    number = pick_number(step, rng, last, past, met_now=reason == "new")
    thing = pick_thing(rng, last)
    arrangement = rng.choice(step.arrangements)
    return CountSet(
        step=step,
        form=form,
        reason=reason,
        number=number,
        answer=number,
        choices=choices(number, form, step.near, rng, answers=step.numbers),
        thing=thing,
        prompt=(phrases.ask_count(thing),),
        shown=f"{several(number, thing)}, {arrangement}",
        asked="how many",
        arrangement=arrangement,
        places=layout.arrange(arrangement, number, rng),
    )


def judge(task: CountSet, response: CountResponse) -> Verdict:
    if response.answer == task.answer:
        return Verdict(True, str(response.answer))
    return Verdict(False, str(response.answer), _error(task, response))


def _error(task: CountSet, response: CountResponse) -> str:
    """The counting principle that the touches and the answer break; without touches, how far off it was."""
    things = [t for t in response.touched if t is not None]
    if not response.touched:
        return off_by(response.answer, task.answer)
    if len(set(things)) < len(things):
        return TWICE
    if len(set(things)) < task.number:
        return LEFT_OUT
    if len(response.touched) > task.number or response.answer > task.number:
        return WENT_ON
    return CARDINALITY


def hint(task: CountSet, verdict: Verdict) -> Clips:
    if task.number == 0:
        return (phrases.HINT_NOTHING_HERE,)
    return {
        LEFT_OUT: (phrases.HINT_LEFT_OUT, phrases.HINT_COUNT_AGAIN),
        CARDINALITY: (phrases.HINT_LAST_NUMBER,),
        TWICE: (phrases.HINT_COUNT_AGAIN,),
        WENT_ON: (phrases.HINT_COUNT_AGAIN,),
    }.get(verdict.error, (phrases.HINT_COUNT_TOUCH,))


def confirm(task: CountSet) -> Clips:
    return (phrases.total(task.number, task.thing),)


def respond(task: CountSet, answer: int) -> CountResponse:
    """A child who counts to `answer` by touching: too few leaves some out, too many touches some twice."""
    if task.number == 0:
        return CountResponse(answer)
    return CountResponse(answer, tuple(n % task.number for n in range(answer)))


KIND = Kind(
    id="count_set",
    title="Count the set",
    forms=("choice3", "choice4", "constructed"),
    ways=("",),
    lowest=0,
    highest=10,
    needs_arrangement=True,
    make=make,
    judge=judge,
    hint=hint,
    confirm=confirm,
    respond=respond,
    praise=(phrases.PRAISE_EACH, phrases.PRAISE_STEADY),
)
