"""Shared by the tests: the shipped levels, a child, and a whole session in one call."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from random import Random

import pytest

from game import paths
from game.core.levels import Levels, load_levels
from game.core.mastery import ChildMastery, Neighbours
from game.core.records import Attempt, Child, Task
from game.core.session import Session, Where
from game.core.tasks import KINDS

MIRA = Child("Mira~k3f9", "Mira", "owl", "left")
EVENING = datetime(2026, 3, 2, 16, 30)


@pytest.fixture(scope="session")
def shipped() -> Levels:
    return load_levels([paths.data("levels")])


class Clock:
    """Moves on three seconds at each look."""

    def __init__(self, at: datetime = EVENING) -> None:
        self.at = at

    def __call__(self) -> datetime:
        self.at += timedelta(seconds=3)
        return self.at


def right(task: Task, tries: int) -> int:
    return task.answer


def wrong_once(task: Task, tries: int) -> int:
    return task.answer if tries else (task.answer + 1) % 11


def wrong_twice(task: Task, tries: int) -> int:
    return task.answer if tries > 1 else (task.answer + 1) % 11


def play(
    levels: Levels,
    answer: Callable[[Task, int], int] = right,
    seed: int = 1,
    mastery: ChildMastery | None = None,
    child: Child = MIRA,
    clock: Clock | None = None,
) -> tuple[Session, list[Attempt]]:
    """A whole lane in one call; `answer` gets the task and how often it was tried, and gives a number."""
    lines: list[Attempt] = []
    known = mastery if mastery is not None else ChildMastery(Neighbours(levels.skills))
    session = Session(levels, known, child, Where("centre", "lamp1"), Random(seed), clock or Clock(), lines.append)
    while (task := session.next_task()) is not None:
        tries = 0
        while session.task is task:
            session.answer(KINDS[task.kind].respond(task, answer(task, tries)), 2.0)
            tries += 1
    return session, lines


def play_days(
    levels: Levels, days: Sequence[int], answer: Callable[[Task, int], int], seed: int = 1
) -> tuple[ChildMastery, list[Attempt]]:
    """One lane on each of `days` after the first evening, with the same mastery throughout."""
    mastery = ChildMastery(Neighbours(levels.skills))
    lines: list[Attempt] = []
    for number, day in enumerate(days):
        clock = Clock(EVENING + timedelta(days=day))
        lines += play(levels, answer, seed + number, mastery, clock=clock)[1]
    return mastery, lines
