"""Make ten with two hands of five: some fingers are up, how many more make ten?

Ways: `raise` (the child raises the folded fingers, then says how many more), `folded` (the fingers stay folded),
`numeral` (only the numeral is given). A full hand comes first, then the rest, so that six to nine are five and some.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from game.core import phrases
from game.core.records import Form, Step, Task, Verdict
from game.core.tasks.kind import NOTHING, Clips, Kind, Past, choices, off_by, pick_number

RAISE, FOLDED, NUMERAL = "raise", "folded", "numeral"
OTHER_PART = "gave the other part"
WHOLE = "gave the whole"


@dataclass(frozen=True, kw_only=True)
class MakeTen(Task):
    """`number` fingers are up; `answer` more make ten."""

    @property
    def hands_shown(self) -> bool:
        return self.step.way != NUMERAL

    @property
    def to_raise(self) -> bool:
        return self.step.way == RAISE


@dataclass(frozen=True, slots=True)
class MakeTenResponse:
    """`raised`: how many fingers the child put up (None where none can be raised)."""

    answer: int
    raised: int | None = None


def make(step: Step, form: Form, reason: str, rng: Random, last: Task | None, past: Past = NOTHING) -> MakeTen:
    number = pick_number(step, rng, last, past)
    more = 10 - number
    prompts = {
        RAISE: (phrases.ask_make_ten(number),),
        FOLDED: (phrases.ask_more(number),),
        NUMERAL: (phrases.ask_more(number),),
    }
    return MakeTen(
        step=step,
        form=form,
        reason=reason,
        number=number,
        answer=more,
        choices=choices(more, form, step.near, rng, (number,), [10 - n for n in step.numbers]),
        prompt=prompts[step.way],
        shown=f"numeral {number}" if step.way == NUMERAL else f"{number} fingers up",
        asked="how many more make ten",
    )


def judge(task: MakeTen, response: MakeTenResponse) -> Verdict:
    given = response.answer
    if given == task.answer:
        return Verdict(True, str(given))
    if given == task.number:
        return Verdict(False, str(given), OTHER_PART)
    if given == 10:
        return Verdict(False, str(given), WHOLE)
    return Verdict(False, str(given), off_by(given, task.answer))


def hint(task: MakeTen, verdict: Verdict) -> Clips:
    return (phrases.HINT_FOLDED,)


def confirm(task: MakeTen) -> Clips:
    return (phrases.make_ten(task.number),)


def respond(task: MakeTen, answer: int) -> MakeTenResponse:
    return MakeTenResponse(answer, task.answer if task.to_raise else None)


KIND = Kind(
    id="make_ten",
    title="Make ten with two hands of five",
    forms=("choice3", "choice4", "constructed"),
    ways=(RAISE, FOLDED, NUMERAL),
    lowest=0,
    highest=10,
    needs_arrangement=False,
    make=make,
    judge=judge,
    hint=hint,
    confirm=confirm,
    respond=respond,
    praise=(phrases.PRAISE_FIRST, phrases.PRAISE_CAREFUL),
)
