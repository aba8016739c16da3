"""The number track: which number is missing, which comes next, and where do some steps on from a number lead?

Ways: `gap` (five numbers in a row, one of them hidden), `next` (three numbers are said, the next is asked), `count_on`
(start at a number and go one to three steps on).
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from game.core import phrases
from game.core.records import Form, Step, Task, Verdict
from game.core.tasks.kind import NOTHING, WITHIN_TEN, Clips, Kind, Past, choices, off_by, pick_number

GAP, NEXT, COUNT_ON = "gap", "next", "count_on"
PIECE = 5
"""How many numbers of the track show at once in `gap`."""
SAID = 3
MOST_STEPS = 3
START_COUNTED = "counted the start as the first step"
BEFORE = "gave the number before"
STEPS_ONLY = "gave the steps, not where they lead"


@dataclass(frozen=True, kw_only=True)
class NumberTrack(Task):
    """`track`: the numbers that show, None for the one that is asked. `start` and `steps` for counting on, else 0."""

    track: tuple[int | None, ...]
    start: int = 0
    steps: int = 0


@dataclass(frozen=True, slots=True)
class TrackResponse:
    answer: int


def make(step: Step, form: Form, reason: str, rng: Random, last: Task | None, past: Past = NOTHING) -> NumberTrack:
    """`number` is the hidden number, the next one, or where counting on starts."""
    number = pick_number(step, rng, last, past)
    steps = rng.randint(1, min(MOST_STEPS, 10 - number)) if step.way == COUNT_ON else 0
    answer = number + steps
    likely = {GAP: (number - 1, number + 1), NEXT: (number - 1,), COUNT_ON: (answer - 1, steps)}[step.way]
    track = _track(step.way, number, rng)
    return NumberTrack(
        step=step,
        form=form,
        reason=reason,
        number=number,
        answer=answer,
        choices=choices(answer, form, step.near, rng, likely, WITHIN_TEN if steps else step.numbers),
        prompt=_prompt(step.way, number, steps),
        shown=f"start {number}, {steps} steps on" if steps else " ".join("_" if n is None else str(n) for n in track),
        asked={GAP: "which is missing", NEXT: "which comes next", COUNT_ON: "where do the steps lead"}[step.way],
        track=track,
        start=number if steps else 0,
        steps=steps,
    )


def _track(way: str, number: int, rng: Random) -> tuple[int | None, ...]:
    if way == COUNT_ON:
        return tuple(WITHIN_TEN)
    if way == NEXT:
        return (*range(max(0, number - SAID), number), None)
    first = rng.randint(max(0, number - PIECE + 1), min(number, 10 - PIECE + 1))
    return tuple(None if n == number else n for n in range(first, first + PIECE))


def _prompt(way: str, number: int, steps: int) -> Clips:
    if way == COUNT_ON:
        return (phrases.ask_start(number), phrases.ask_steps(steps))
    if way == NEXT:
        return (*(phrases.number(n) for n in range(max(0, number - SAID), number)), phrases.ASK_NEXT)
    return (phrases.ASK_GAP,)


def judge(task: NumberTrack, response: TrackResponse) -> Verdict:
    given = response.answer
    error = off_by(given, task.answer)
    if error and task.steps and given == task.answer - 1:
        error = START_COUNTED
    elif error and task.steps and given == task.steps:
        error = STEPS_ONLY
    elif error and not task.steps and given == task.answer - 1:
        error = BEFORE
    return Verdict(given == task.answer, str(given), error)


def hint(task: NumberTrack, verdict: Verdict) -> Clips:
    if task.step.way == COUNT_ON:
        return (phrases.HINT_FIRST_STEP,)
    return (phrases.HINT_FROM_START,)


def confirm(task: NumberTrack) -> Clips:
    return (phrases.comes_after(task.answer - 1),) if task.step.way == NEXT else (phrases.it_is(task.answer),)


def respond(task: NumberTrack, answer: int) -> TrackResponse:
    return TrackResponse(answer)


KIND = Kind(
    id="number_track",
    title="The number track",
    forms=("choice3", "choice4", "constructed"),
    ways=(GAP, NEXT, COUNT_ON),
    lowest=0,
    highest=10,
    needs_arrangement=False,
    make=make,
    judge=judge,
    hint=hint,
    confirm=confirm,
    respond=respond,
    praise=(phrases.PRAISE_LISTENED, phrases.PRAISE_FIRST),
    spans={NEXT: (1, 10), COUNT_ON: (0, 9)},
)
