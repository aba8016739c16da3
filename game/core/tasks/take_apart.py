"""Take a number apart: the pairs that make ten on the frame, and five to nine in more than one way.

Ways: `pair` (some counters lie on the ten frame, how many more make ten), `part` (so many in all, some are under the
cloth, how many), `another` (one way is shown, the child shows another by moving the gap; none on one side is a way,
too). Taken in order and with 0, n comes apart in n + 1 ways.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from game.core import phrases
from game.core.records import Form, Step, Task, Verdict
from game.core.tasks.kind import NOTHING, Clips, Kind, Past, choices, off_by, pick_number

PAIR, PART, ANOTHER = "pair", "part", "another"
OTHER_PART = "gave the other part"
WHOLE = "gave the whole"
SAME_WAY = "showed the same way again"


@dataclass(frozen=True, kw_only=True)
class TakeApart(Task):
    """`whole` counters in two parts, `part` of them to the left: those that show, or the way shown already.

    `number` is what the step's numbers name: the part for `pair`, else the whole.
    """

    whole: int
    part: int

    @property
    def to_show(self) -> bool:
        """Whether the child makes the answer by moving the gap."""
        return self.step.way == ANOTHER


@dataclass(frozen=True, slots=True)
class ApartResponse:
    """`answer`: the hidden or missing part; for `another` how many are left of the gap (0 to the whole)."""

    answer: int


def make(step: Step, form: Form, reason: str, rng: Random, last: Task | None, past: Past = NOTHING) -> TakeApart:
    number = pick_number(step, rng, last, past)
    whole = 10 if step.way == PAIR else number
    before = last.part if isinstance(last, TakeApart) else None
    part = number if step.way == PAIR else rng.choice([n for n in range(whole + 1) if n != before])
    to_show = step.way == ANOTHER
    answer = rng.choice([n for n in range(whole + 1) if n != part]) if to_show else whole - part
    answers = [10 - n for n in step.numbers] if step.way == PAIR else range(whole + 1)
    given: Form = "constructed" if to_show else form
    return TakeApart(
        step=step,
        form=given,
        reason=reason,
        number=number,
        answer=answer,
        choices=choices(answer, given, step.near, rng, (part, whole), answers),
        prompt=_prompt(step.way, whole, part),
        shown=f"{part} of {whole}, {step.way}",
        asked="show another way" if to_show else "how many are the others",
        whole=whole,
        part=part,
    )


def _prompt(way: str, whole: int, part: int) -> Clips:
    if way == PAIR:
        return (phrases.ask_more(part),)
    if way == PART:
        return (phrases.in_all(whole), phrases.ASK_HIDDEN)
    return (phrases.parts(whole, part), phrases.ask_another(whole))


def judge(task: TakeApart, response: ApartResponse) -> Verdict:
    given = response.answer
    if task.to_show:
        right = 0 <= given <= task.whole and given != task.part
        return Verdict(right, f"{given} and {task.whole - given}", "" if right else SAME_WAY)
    if given == task.answer:
        return Verdict(True, str(given))
    if given == task.part:
        return Verdict(False, str(given), OTHER_PART)
    if given == task.whole:
        return Verdict(False, str(given), WHOLE)
    return Verdict(False, str(given), off_by(given, task.answer))


def hint(task: TakeApart, verdict: Verdict) -> Clips:
    hints = {PAIR: phrases.HINT_EMPTY_PLACES, PART: phrases.HINT_COUNT_ON, ANOTHER: phrases.HINT_MOVE_GAP}
    return (hints[task.step.way],)


def confirm(task: TakeApart) -> Clips:
    """Names the parts; for `another` the whole alone, after the child's `own_way`."""
    return (phrases.in_all(task.whole) if task.to_show else phrases.parts(task.whole, task.part),)


def own_way(task: TakeApart, response: ApartResponse) -> Clips:
    """The parts that the child itself showed, for the scene to say as the gap moves."""
    return (phrases.parts(task.whole, response.answer),)


def respond(task: TakeApart, answer: int) -> ApartResponse:
    """For `another` any answer but the task's stands for the way that was shown already."""
    return ApartResponse(task.part if task.to_show and answer != task.answer else answer)


KIND = Kind(
    id="take_apart",
    title="Take a number apart",
    forms=("choice3", "choice4", "constructed"),
    ways=(PAIR, PART, ANOTHER),
    lowest=1,
    highest=10,
    needs_arrangement=False,
    make=make,
    judge=judge,
    hint=hint,
    confirm=confirm,
    respond=respond,
    praise=(phrases.PRAISE_FIRST, phrases.PRAISE_CAREFUL),
    spans={PAIR: (0, 10)},
)
