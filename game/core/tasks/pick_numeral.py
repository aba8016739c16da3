"""Pick the numeral: hear the number word, or see a set, and touch the numeral that goes with it."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from game.core import layout, phrases
from game.core.records import Form, Step, Task, Verdict
from game.core.tasks.kind import NOTHING, Clips, Kind, Past, choices, off_by, pick_number, pick_thing, several

HEARD, SEEN = "heard", "set"
LOOK_ALIKE = {6: (9,), 9: (6,), 1: (7,), 7: (1,)}
"""Numerals that children exchange: turned round, or alike in shape."""


@dataclass(frozen=True, kw_only=True)
class PickNumeral(Task):
    """`places` are the centres of the things when a set is shown; none when the word is heard."""

    places: tuple[layout.Point, ...] = ()

    @property
    def heard(self) -> bool:
        return self.step.way == HEARD


@dataclass(frozen=True, slots=True)
class PickResponse:
    answer: int


def make(step: Step, form: Form, reason: str, rng: Random, last: Task | None, past: Past = NOTHING) -> PickNumeral:
    number = pick_number(step, rng, last, past)
    offered = choices(number, form, step.near, rng, likely=LOOK_ALIKE.get(number, ()), answers=step.numbers)
    if step.way == HEARD:
        return PickNumeral(
            step=step, form=form, reason=reason, number=number, answer=number, choices=offered,
            prompt=(phrases.ask_find(number),), shown=f"numerals {_words(offered)}",
            asked=f"find {number}",
        )  # fmt: skip
    thing = pick_thing(rng, last)
    arrangement = rng.choice(step.arrangements or ("array",))
    return PickNumeral(
        step=step, form=form, reason=reason, number=number, answer=number, choices=offered, thing=thing,
        prompt=(phrases.ask_count(thing), phrases.ASK_PICK_SET),
        shown=f"{several(number, thing)}, {arrangement}", asked="which numeral",
        places=layout.arrange(arrangement, number, rng),
    )  # fmt: skip


def _words(numerals: tuple[int, ...]) -> str:
    return " ".join(str(n) for n in numerals) if numerals else "0 to 10"


def judge(task: PickNumeral, response: PickResponse) -> Verdict:
    error = off_by(response.answer, task.answer)
    if {response.answer, task.answer} == {6, 9}:
        error = "6 and 9 exchanged"
    return Verdict(response.answer == task.answer, str(response.answer), error)


def hint(task: PickNumeral, verdict: Verdict) -> Clips:
    if task.heard:
        return (phrases.HINT_LOOK_DOTS, *task.prompt)
    return (phrases.HINT_COUNT_TOUCH,) if task.number else (phrases.HINT_NOTHING_HERE,)


def confirm(task: PickNumeral) -> Clips:
    return (phrases.look_at(task.number),) if task.heard else (phrases.total(task.number, task.thing),)


def respond(task: PickNumeral, answer: int) -> PickResponse:
    return PickResponse(answer)


KIND = Kind(
    id="pick_numeral",
    title="Pick the numeral",
    forms=("choice3", "choice4", "constructed"),
    ways=(HEARD, SEEN),
    lowest=0,
    highest=10,
    needs_arrangement=False,
    make=make,
    judge=judge,
    hint=hint,
    confirm=confirm,
    respond=respond,
    praise=(phrases.PRAISE_LISTENED, phrases.PRAISE_CAREFUL),
)
