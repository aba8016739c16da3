"""What the two writing kinds share: the task, the written response, its judging, and what is said to it.

Ways: `trace` (along the dotted way, after the mole has shown it), `copy` (the model stands beside), `memory` (heard
only). Only the shape makes an answer right; how it was formed is told afterwards, and stands in the log.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from random import Random

from game.core import phrases
from game.core.ink import Ink, Stroke
from game.core.records import Attempt, Form, Hand, Step, Task, Verdict
from game.core.tasks.kind import Clips, Past, pick_number
from game.core.writing import judge as writing_judge
from game.core.writing.formation import Ruling
from game.core.writing.forms import Forms, load_forms
from game.core.writing.judge import Judge, load_judge, shipped

TRACE, COPY, MEMORY = "trace", "copy", "memory"
WAYS = (TRACE, COPY, MEMORY)
SHOWN = {TRACE: "dotted way", COPY: "model beside", MEMORY: "nothing, heard only"}
WORDS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")

MIRRORED = "mirrored"
OTHER = "other numeral "
OTHER_LETTER = "other letter"
NOT_CLEAR = "not clear"
LEFT_THE_WAY = "left the way"

TIPS: dict[str, str] = {
    "started at the bottom": phrases.TIP_TOP,
    "started elsewhere": phrases.TIP_START,
    "stroke reversed": phrases.TIP_WAY,
    "order": phrases.TIP_ORDER,
    "not closed": phrases.TIP_CLOSE,
    "no dot": phrases.TIP_DOT,
    "off the line": phrases.TIP_LINE,
    "too large": phrases.TIP_SMALLER,
    "too small": phrases.TIP_TALLER,
}
"""What is said about each slip of a symbol that can be read; the slips are those of writing.formation."""

STRAYS_ALLOWED = 1
"""Tracing is right when the ink left the way at most so often, and once more for each stroke."""
SAMPLE_HEIGHT, SAMPLE_TOP, SAMPLE_LEFT = 400.0, 138.0, 400.0
SAMPLE_SPEED = 1.1
"""Heights of a numeral that a rehearsing hand writes in a second."""
SAMPLE_WOBBLE = 0.012
SAMPLE_LIFT_MS = 350


@lru_cache(maxsize=1)
def shipped_forms() -> Forms:
    """The forms that Ten Lamps ships, read once."""
    return load_forms(shipped())


@dataclass(frozen=True, kw_only=True)
class WriteTask(Task):
    """`symbol` is what is to be written: a numeral ("7", "10") or a word ("seven")."""

    symbol: str

    @property
    def is_word(self) -> bool:
        return self.symbol in WORDS


@dataclass(frozen=True, slots=True)
class WriteResponse:
    """The strokes as they were written, in page units, and `lines`: y of the top line and of the base line.

    `strays`: how often the ink left the way when it was traced; None when it was written freely. `guided`: traced
    together with the mole, where straying does not matter. `forms` are those taught here (else the shipped ones), and
    `child` tells whose own forms among them count.
    """

    strokes: tuple[Stroke, ...]
    hand: Hand
    lines: tuple[float, float]
    strays: int | None = None
    guided: bool = False
    forms: Forms | None = None
    child: str | None = None

    def ink(self, attempt: Attempt) -> Ink:
        return Ink(attempt.attempt_id, attempt.asked, attempt.hand, self.strokes, self.lines)


@dataclass(frozen=True, slots=True)
class WriteVerdict(Verdict):
    """`strokes`: those of the model (from 0) that are worth looking at: of the wrong letter, of the slip."""

    strokes: tuple[int, ...] = ()


def make_task(
    step: Step, form: Form, reason: str, rng: Random, last: Task | None, past: Past, symbols: tuple[str, ...]
) -> WriteTask:
    number = pick_number(step, rng, last, past)
    symbol = symbols[number]
    word = symbol in WORDS
    asks = {TRACE: phrases.ask_watch, COPY: phrases.ask_copy, MEMORY: phrases.ask_write}
    return WriteTask(
        step=step,
        form=form,
        reason=reason,
        number=number,
        answer=number,
        prompt=(asks[step.way](number, word),),
        shown=SHOWN[step.way],
        asked=symbol,
        symbol=symbol,
    )


def judge(task: WriteTask, response: WriteResponse) -> WriteVerdict:
    if response.strays is not None:
        return _traced(task, response, response.strays)
    forms = response.forms or shipped_forms()
    of_shape = Judge(forms, load_judge(shipped()).shapes)
    found = of_shape.judge(response.strokes, task.symbol, response.hand, Ruling(*response.lines), response.child)
    if not found.sure:
        return WriteVerdict(None, found.looks_like or NOT_CLEAR, NOT_CLEAR)
    counts = [len(forms.taught(symbol, response.hand, response.child).strokes) for symbol in task.symbol]
    worth = _worth_a_look(found, counts)
    if found.is_asked:
        return WriteVerdict(True, task.symbol, found.slip or "", worth)
    error = _error(task, found)
    answered = f"{MIRRORED} {task.symbol}" if error == MIRRORED else found.looks_like or NOT_CLEAR
    return WriteVerdict(False, answered, error, worth)


def _traced(task: WriteTask, response: WriteResponse, strays: int) -> WriteVerdict:
    """Tracing is right when the whole way was followed and the ink seldom left it."""
    strokes = (response.forms or shipped_forms()).taught(task.symbol, response.hand, response.child).strokes
    if response.guided or strays <= STRAYS_ALLOWED + len(strokes):
        return WriteVerdict(True, task.symbol)
    return WriteVerdict(False, task.symbol, LEFT_THE_WAY)


def _error(task: WriteTask, found: writing_judge.Verdict) -> str:
    looks = found.looks_like
    if found.mirrored or (looks is not None and len(looks) > 1 and looks == task.symbol[::-1] != task.symbol):
        return MIRRORED
    if task.is_word:
        return OTHER_LETTER if found.parts else NOT_CLEAR
    return OTHER + looks if looks in _NUMERALS else NOT_CLEAR


_NUMERALS = tuple(str(n) for n in range(11))


def _worth_a_look(found: writing_judge.Verdict, counts: Sequence[int]) -> tuple[int, ...]:
    """The strokes of the model that the verdict is about; `counts` tells how many each symbol of it has."""
    parts = found.parts or (found,)
    at = 0
    for part, count in zip(parts, counts, strict=False):
        if not part.is_asked:
            return tuple(range(at, at + count)) if found.parts else tuple(range(sum(counts)))
        for number, stroke in enumerate(part.strokes):
            well = stroke.start == "as taught" and stroke.direction == "forward" and stroke.in_order
            if not well or stroke.closed is False:
                return (at + number,)
        at += count
    return ()


def hint(task: WriteTask, verdict: Verdict) -> Clips:
    """The most helpful thing to say about ink that was not right, or not sure."""
    if verdict.right is None:
        return (phrases.HINT_WRITE_AGAIN,)
    if verdict.error == LEFT_THE_WAY:
        return (phrases.HINT_TRACE_SLOWLY,)
    if task.is_word:
        return (phrases.HINT_MIRROR_LETTER if verdict.error == MIRRORED else phrases.HINT_WORD_LOOK,)
    if verdict.error == MIRRORED and task.number not in phrases.NO_MIRROR:
        return (phrases.mirror(task.number),)
    if verdict.error.startswith(OTHER):
        return phrases.looks_like(int(verdict.error.removeprefix(OTHER))), phrases.HINT_WRITE_LOOK
    return (phrases.HINT_WRITE_LOOK,)


def tip(verdict: Verdict) -> Clips:
    """What to say afterwards about a symbol that can be read but was not formed as taught."""
    return (TIPS[verdict.error],) if verdict.right and verdict.error in TIPS else ()


def confirm(task: WriteTask) -> Clips:
    return (phrases.wrote(task.number, task.is_word),)


def sample(task: WriteTask, symbol: str) -> WriteResponse:
    """A rehearsing hand writes `symbol`: the form as taught, with the same slight wobble each time.

    Along the way a hand that is to be wrong follows it so badly that the ink leaves it again and again.
    """
    strays, wobble = None, SAMPLE_WOBBLE
    if task.step.way == TRACE:
        strays, wobble = (0, SAMPLE_WOBBLE) if symbol == task.symbol else (9, 10 * SAMPLE_WOBBLE)
        symbol = task.symbol
    rng = Random(symbol)
    at_ms = 0.0
    strokes: list[Stroke] = []
    for stroke in shipped_forms().taught(symbol, "right").strokes:
        long = stroke.length
        count = max(2, round(long * 40))
        turn_x, turn_y = rng.uniform(0, math.tau), rng.uniform(0, math.tau)
        points: list[tuple[float, float, float]] = []
        for number, (x, y) in enumerate(stroke.points(count)):
            x += wobble * math.sin(turn_x + 9 * number / 40)
            y += wobble * math.sin(turn_y + 7 * number / 40)
            points.append((SAMPLE_LEFT + x * SAMPLE_HEIGHT, SAMPLE_TOP + y * SAMPLE_HEIGHT, round(at_ms)))
            at_ms += 1000 * long / count / SAMPLE_SPEED
        strokes.append(tuple(points))
        at_ms += SAMPLE_LIFT_MS
    return WriteResponse(tuple(strokes), "right", (SAMPLE_TOP, SAMPLE_TOP + SAMPLE_HEIGHT), strays)
