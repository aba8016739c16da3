"""One fewer: a ten frame with counters; one goes away, how many are left?

Ways: `take` (the child takes one away and sees what is left), `covered` (a cloth hides the frame, one goes away
under it), `numeral` (the numeral alone).
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from game.core import phrases
from game.core.records import Form, Step, Task, Verdict
from game.core.tasks.kind import NOTHING, Clips, Kind, Past, choices, off_by, pick_number

TAKE, COVERED, NUMERAL = "take", "covered", "numeral"
SAME = "gave the number that was there"
ONE_MORE = "went one up"


@dataclass(frozen=True, kw_only=True)
class OneFewer(Task):
    """`number` counters stand in the frame at first (1 to 10); `answer` is one fewer."""

    @property
    def frame_shown(self) -> bool:
        return self.step.way != NUMERAL


@dataclass(frozen=True, slots=True)
class FewerResponse:
    answer: int


def make(step: Step, form: Form, reason: str, rng: Random, last: Task | None, past: Past = NOTHING) -> OneFewer:
    number = pick_number(step, rng, last, past)
    prompts = {
        TAKE: (phrases.here_are(number), phrases.ASK_TAKE_ONE),
        COVERED: (phrases.here_are(number), phrases.ASK_COVERED),
        NUMERAL: (phrases.ask_fewer(number),),
    }
    return OneFewer(
        step=step,
        form=form,
        reason=reason,
        number=number,
        answer=number - 1,
        choices=choices(number - 1, form, step.near, rng, (number,), [n - 1 for n in step.numbers]),
        prompt=prompts[step.way],
        shown=f"numeral {number}" if step.way == NUMERAL else f"{number} on the frame, {step.way}",
        asked="one fewer",
    )


def judge(task: OneFewer, response: FewerResponse) -> Verdict:
    given = response.answer
    if given == task.answer:
        return Verdict(True, str(given))
    if given == task.number:
        return Verdict(False, str(given), SAME)
    if given == task.number + 1:
        return Verdict(False, str(given), ONE_MORE)
    return Verdict(False, str(given), off_by(given, task.answer))


def hint(task: OneFewer, verdict: Verdict) -> Clips:
    return (phrases.HINT_BACK,) if task.step.way == NUMERAL else (phrases.HINT_TAKE_ONE,)


def confirm(task: OneFewer) -> Clips:
    return (phrases.fewer(task.number),)


def respond(task: OneFewer, answer: int) -> FewerResponse:
    return FewerResponse(answer)


KIND = Kind(
    id="one_fewer",
    title="One fewer",
    forms=("choice3", "choice4", "constructed"),
    ways=(TAKE, COVERED, NUMERAL),
    lowest=1,
    highest=10,
    needs_arrangement=False,
    make=make,
    judge=judge,
    hint=hint,
    confirm=confirm,
    respond=respond,
    praise=(phrases.PRAISE_FIRST, phrases.PRAISE_STEADY),
)
