"""The records that the stages hand on to each other. All are frozen; units stand in names."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal

Hand = Literal["right", "left"]
Form = Literal["choice3", "choice4", "constructed"]
Help = Literal["none", "hint", "together"]
Stage = Literal["done", "hint", "together", "again"]

TASKS_A_LANE = 10
GUEST_ID = "guest"

THINGS = (
    "kite", "pear", "teacup", "bell", "button", "mitten",
    "hedgehog", "boot", "spoon", "moth", "acorn", "umbrella",
)  # fmt: skip
BADGES = (
    "owl", "fox", "snail", "frog", "robin", "hare",
    "bee", "fish", "clover", "starflower", "mushroom", "feather",
)  # fmt: skip

FORM_WORDS: dict[Form, str] = {"choice3": "1 of 3", "choice4": "1 of 4", "constructed": "own answer"}
"""How level files and the log write a form of answer."""


@dataclass(frozen=True, slots=True)
class Child:
    """One entry of the class list; `id` stays when the nickname changes."""

    id: str
    nickname: str
    badge: str
    hand: Hand = "right"
    notes: str = ""
    away: bool = False

    @property
    def guest(self) -> bool:
        return self.id == GUEST_ID


GUEST = Child(GUEST_ID, "Guest", "")


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a skill, as its level file gives it."""

    skill: str
    id: str
    title: str
    task: str
    form: Form
    numbers: tuple[int, ...]
    way: str
    standard: str
    arrangements: tuple[str, ...] = ()
    near: bool = False
    needs: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        return f"{self.skill}.{self.id}"


@dataclass(frozen=True, slots=True)
class Skill:
    """A skill and its steps, easiest first."""

    id: str
    title: str
    steps: tuple[Step, ...]


@dataclass(frozen=True, kw_only=True)
class Task:
    """One mini-task to do. Each kind adds what its scene must place.

    `number` is the number the task is about, `answer` what is to be given back (0 to 10), `choices` the
    numerals offered (none when the child makes the answer), `prompt` the clips that ask for it.
    """

    step: Step
    form: Form
    reason: str
    number: int
    answer: int
    choices: tuple[int, ...] = ()
    thing: str = ""
    prompt: tuple[str, ...] = ()
    shown: str = ""
    asked: str = ""
    worked: bool = False

    @property
    def kind(self) -> str:
        return self.step.task


@dataclass(frozen=True, slots=True)
class Verdict:
    """What judging found. `right` is None when it could not be judged: that counts neither way."""

    right: bool | None
    answered: str
    error: str = ""


@dataclass(frozen=True, slots=True)
class Attempt:
    """One line of the log. `at` is local time without a zone; `seconds` counts from the end of the prompt."""

    at: datetime
    child: str
    place: str
    hand: Hand
    skill: str
    step: str
    task: str
    form: Form
    reason: str
    shown: str
    asked: str
    answered: str
    right: bool | None
    first_try: bool
    help: Help
    error: str
    seconds: float
    chance_known: float
    device: str
    attempt_id: str
    version: str

    @property
    def key(self) -> str:
        return f"{self.skill}.{self.step}"

    @property
    def lane(self) -> str:
        """The lane (one sitting of ten tasks) that the attempt belongs to: its id without task and try."""
        return lane_of(self.attempt_id)


def lane_of(attempt_id: str) -> str:
    return attempt_id.rsplit("-", 2)[0]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What follows an answer: the next stage of the ladder, what is said, how many lamps are lit."""

    stage: Stage
    verdict: Verdict
    say: tuple[str, ...]
    lit: int
    attempt: Attempt
    praise: tuple[str, ...] = field(default=())
