"""See at once: dots, fingers or a ten frame show for a moment; how many were there?

The moment is short, so that counting one by one does not come first; answering has no limit, and the child may look
again once, which the log tells. Up to five are seen as one pattern, six to ten as five and some more: frames fill the
row of five first, hands a full hand first (Clements 1999, summary; National Research Council 2009, Box 5-7, seen).
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from game.core import layout, phrases
from game.core.records import Form, Step, Task, Verdict
from game.core.tasks.kind import NOTHING, Clips, Kind, Past, choices, off_by, pick_number

DOTS, FINGERS, FRAME = "dots", "fingers", "frame"
WITHOUT_FIVE = "gave the rest without the five"
EMPTY = "gave what is missing to ten"
LOOKED_AGAIN = "looked again"
GLANCE_S, LONG_GLANCE_S = 1.5, 2.0
"""How long a set shows, in seconds: up to five, and six to ten. Counting six aloud takes a child longer."""


@dataclass(frozen=True, kw_only=True)
class SeeAtOnce(Task):
    """`places` are the centres of the dots (none for fingers and frames); `glance_s` how long all of it shows.

    The first clip of `prompt` comes before the moment, the rest after it.
    """

    arrangement: str
    places: tuple[layout.Point, ...]
    glance_s: float


@dataclass(frozen=True, slots=True)
class SeeResponse:
    answer: int
    looked_again: bool = False


def make(step: Step, form: Form, reason: str, rng: Random, last: Task | None, past: Past = NOTHING) -> SeeAtOnce:
    number = pick_number(step, rng, last, past)
    arrangement = rng.choice(step.arrangements or ("dice",)) if step.way == DOTS else ""
    likely = [n for n in (number - 5, 10 - number) if number > 5 and step.way != DOTS]
    return SeeAtOnce(
        step=step,
        form=form,
        reason=reason,
        number=number,
        answer=number,
        choices=choices(number, form, step.near, rng, likely, step.numbers),
        prompt=(phrases.ASK_GLANCE, phrases.ASK_SEEN),
        shown=f"{number} {step.way}{', ' if arrangement else ''}{arrangement}",
        asked="how many at once",
        arrangement=arrangement,
        places=layout.arrange(arrangement, number, rng) if arrangement else (),
        glance_s=GLANCE_S if number <= 5 else LONG_GLANCE_S,
    )


def judge(task: SeeAtOnce, response: SeeResponse) -> Verdict:
    given = response.answer
    answered = f"{given}, {LOOKED_AGAIN}" if response.looked_again else str(given)
    error = off_by(given, task.answer)
    if error and task.number > 5 and given == task.number - 5:
        error = WITHOUT_FIVE
    elif error and task.step.way != DOTS and given == 10 - task.number:
        error = EMPTY
    return Verdict(given == task.answer, answered, error)


def hint(task: SeeAtOnce, verdict: Verdict) -> Clips:
    return (phrases.HINT_FIVE_FIRST,) if task.number > 5 else (phrases.HINT_LOOK_ONCE_MORE,)


def confirm(task: SeeAtOnce) -> Clips:
    return (phrases.five_and(task.number),) if task.number > 5 else (phrases.it_is(task.number),)


def respond(task: SeeAtOnce, answer: int) -> SeeResponse:
    return SeeResponse(answer)


KIND = Kind(
    id="see_at_once",
    title="See at once",
    forms=("choice3", "choice4", "constructed"),
    ways=(DOTS, FINGERS, FRAME),
    lowest=0,
    highest=10,
    needs_arrangement=False,
    make=make,
    judge=judge,
    hint=hint,
    confirm=confirm,
    respond=respond,
    praise=(phrases.PRAISE_CAREFUL, phrases.PRAISE_FIRST),
)
