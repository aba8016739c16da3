"""Where each child stands, skill by skill and step by step: the grid of the class and the lists of a child's page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from game.core.levels import Levels
from game.core.mastery import DUE, ChildMastery, Status, together_please
from game.core.records import Skill, Step
from game.core.standards import STANDARDS
from game.teacher.gather import ChildRecord, StepTally

STATUSES: tuple[tuple[Status, str], ...] = (
    ("secure", "right again on a later day"),
    ("nearly", "sure for now; one right answer on a later day makes it secure"),
    ("practising", "on the way"),
    ("resting", "did not move for a while; the app lets it rest for two lanes and practises what it needs"),
    ("not met", "has not come up yet"),
)


@dataclass(frozen=True, slots=True)
class Mark:
    """One step as the report shows it. `since`: the day on which the status began, where the log tells it."""

    step: Step
    status: Status
    since: int | None
    fading: bool
    chance: float
    tally: StepTally


@dataclass(frozen=True, slots=True)
class Cell:
    """One skill of one child: a word for the whole, and a mark for each step."""

    skill: Skill
    status: Status
    marks: tuple[Mark, ...]

    @property
    def reached(self) -> int:
        """Steps that are nearly there or secure."""
        return sum(mark.status in ("nearly", "secure") for mark in self.marks)


@dataclass(frozen=True, slots=True)
class Served:
    """A published standard and how far the child's steps that serve it have come."""

    standard: str
    says: str
    secure: int
    nearly: int
    steps: int


def cells(levels: Levels, record: ChildRecord, day: int) -> tuple[Cell, ...]:
    made: list[Cell] = []
    for skill in levels.skills:
        marks = tuple(_mark(step, record, day) for step in skill.steps)
        made.append(Cell(skill, skill_status([m.status for m in marks]), marks))
    return tuple(made)


def skill_status(statuses: Sequence[Status]) -> Status:
    """One word for a skill: secure or nearly when every step is at least that; resting when nothing else goes on."""
    if all(s == "secure" for s in statuses):
        return "secure"
    if all(s in ("secure", "nearly") for s in statuses):
        return "nearly"
    if all(s == "not met" for s in statuses):
        return "not met"
    open_steps = [s for s in statuses if s in ("practising", "resting")]
    return "resting" if open_steps and all(s == "resting" for s in open_steps) else "practising"


def _mark(step: Step, record: ChildRecord, day: int) -> Mark:
    mastery = record.mastery
    status = mastery.status(step.key, day)
    state = mastery.steps.get(step.key)
    tally = record.steps.get(step.key, StepTally())
    chance = 0.0 if state is None else state.chance(day)
    since = None
    if state is not None:
        since = {"secure": state.secure_day, "nearly": state.nearly_day, "not met": None}.get(
            status, tally.first_day or None
        )
    fading = status in ("secure", "nearly") and chance < DUE
    return Mark(step, status, since, fading, chance, tally)


def served(found: Sequence[Cell]) -> tuple[Served, ...]:
    """The published standards of the levels, in the order of the list, with the child's standing."""
    marks = [mark for cell in found for mark in cell.marks]
    made: list[Served] = []
    for standard, says in STANDARDS.items():
        own = [mark.status for mark in marks if mark.step.standard == standard]
        if own:
            made.append(Served(standard, says, own.count("secure"), own.count("nearly"), len(own)))
    return tuple(made)


def together(levels: Levels, mastery: ChildMastery) -> tuple[Step, ...]:
    """Steps that the teacher and the child may look at together, of those that the levels still have."""
    keys = together_please(mastery.steps)
    return tuple(step for step in levels.steps if step.key in keys)
