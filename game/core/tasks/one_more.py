"""One more: a ten frame with counters; one comes, how many are there now?

Ways: `add` (the child puts one more in and sees how many there are), `covered` (a cloth hides the frame, one more goes
in under it), `numeral` (the numeral alone). It comes after knowing how many (Cheung and others 2017, copy).
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from game.core import phrases
from game.core.records import Form, Step, Task, Verdict
from game.core.tasks.kind import NOTHING, Clips, Kind, Past, choices, off_by, pick_number

ADD, COVERED, NUMERAL = "add", "covered", "numeral"
SAME = "gave the number that was there"
ONE_FEWER = "went one down"


@dataclass(frozen=True, kw_only=True)
class OneMore(Task):
    """`number` counters stand in the frame at first (0 to 9); `answer` is one more."""

    @property
    def frame_shown(self) -> bool:
        return self.step.way != NUMERAL


@dataclass(frozen=True, slots=True)
class MoreResponse:
    answer: int


def make(step: Step, form: Form, reason: str, rng: Random, last: Task | None, past: Past = NOTHING) -> OneMore:
    number = pick_number(step, rng, last, past)
    prompts = {
        ADD: (phrases.here_are(number), phrases.ASK_ADD_ONE),
        COVERED: (phrases.here_are(number), phrases.ASK_COVERED_MORE),
        NUMERAL: (phrases.ask_one_more(number),),
    }
    return OneMore(
        step=step,
        form=form,
        reason=reason,
        number=number,
        answer=number + 1,
        choices=choices(number + 1, form, step.near, rng, (number,), [n + 1 for n in step.numbers]),
        prompt=prompts[step.way],
        shown=f"numeral {number}" if step.way == NUMERAL else f"{number} on the frame, {step.way}",
        asked="one more",
    )


def judge(task: OneMore, response: MoreResponse) -> Verdict:
    given = response.answer
    if given == task.answer:
        return Verdict(True, str(given))
    if given == task.number:
        return Verdict(False, str(given), SAME)
    if given == task.number - 1:
        return Verdict(False, str(given), ONE_FEWER)
    return Verdict(False, str(given), off_by(given, task.answer))


def hint(task: OneMore, verdict: Verdict) -> Clips:
    return (phrases.HINT_ON,) if task.step.way == NUMERAL else (phrases.HINT_ADD_ONE,)


def confirm(task: OneMore) -> Clips:
    return (phrases.one_more(task.number),)


def respond(task: OneMore, answer: int) -> MoreResponse:
    return MoreResponse(answer)


KIND = Kind(
    id="one_more",
    title="One more",
    forms=("choice3", "choice4", "constructed"),
    ways=(ADD, COVERED, NUMERAL),
    lowest=0,
    highest=9,
    needs_arrangement=False,
    make=make,
    judge=judge,
    hint=hint,
    confirm=confirm,
    respond=respond,
    praise=(phrases.PRAISE_FIRST, phrases.PRAISE_STEADY),
)
