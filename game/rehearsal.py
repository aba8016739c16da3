"""Simulated children who play real lanes: a sample for the teacher, a trial for the tests, a log for the benches.

Each child has a hidden state of its own, apart from the mastery model: a skill for each kind of task on a continuous
scale that grows with practice and fades with days; a step's difficulty comes from its numbers, way and form. Nothing
here was fitted to real children: use it to see how the app behaves, never to say what children do.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from random import Random

from game import paths
from game.core import attempt_log, ink, roster
from game.core.levels import Levels
from game.core.mastery import ChildMastery, Neighbours
from game.core.records import BADGES, Attempt, Child, Hand, Task
from game.core.session import Session, Where
from game.core.tasks import KINDS

NICKNAMES = (
    "Ada", "Bo", "Cleo", "Dov", "Esi", "Finn", "Gia", "Hugo", "Ines", "Juno", "Kito", "Lena",
    "Milo", "Nura", "Otis", "Pia", "Quin", "Rosa", "Sami", "Tess", "Uma", "Vito", "Wren", "Yuki",
)  # fmt: skip
DAYS_BETWEEN = (1, 1, 1, 2, 2, 3, 3, 7)
LEFT_HANDED = 0.1


@dataclass
class Learner:
    """A hidden learner: `level` by kind (about -2 to 4), `pace` of growth a task, `fade` of what was learnt a day."""

    pace: float
    fade: float
    start: float
    slip: float
    level: dict[str, float] = field(default_factory=dict)

    def chance_right(self, task: Task, difficulty: float) -> float:
        ability = self.level.get(task.kind, self.start)
        knows = 1.0 / (1.0 + math.exp(-(ability - difficulty)))
        guess = 1.0 / len(task.choices) if task.choices else 0.05
        return knows * (1.0 - self.slip) + (1.0 - knows) * guess

    def practise(self, kind: str, difficulty: float) -> None:
        """Grows most where the task is neither far too easy nor far too hard."""
        ability = self.level.get(kind, self.start)
        self.level[kind] = ability + self.pace * math.exp(-abs(ability - difficulty) / 2.0)

    def rest(self, days: int) -> None:
        for kind, ability in self.level.items():
            self.level[kind] = self.start + (ability - self.start) * math.exp(-self.fade * days)


def difficulty_of(levels: Levels) -> dict[str, float]:
    """A step's place on the learner's scale: its depth in the order of needs."""
    depth: dict[str, float] = {}
    waiting = list(levels.steps)
    while waiting:
        step = waiting.pop(0)
        if all(need in depth for need in step.needs):
            depth[step.key] = max((depth[need] for need in step.needs), default=-1.4) + 0.55
        else:
            waiting.append(step)
    return depth


def new_learner(rng: Random) -> Learner:
    return Learner(
        pace=rng.uniform(0.10, 0.60),
        fade=rng.uniform(0.002, 0.02),
        start=rng.uniform(-1.5, 2.8),
        slip=rng.uniform(0.03, 0.15),
    )


def answer_of(learner: Learner, task: Task, difficulty: float, rng: Random, help_given: int) -> object:
    """The response the learner gives, right or with an error that children make; help makes it easier."""
    kind = KINDS[task.kind]
    chance = learner.chance_right(task, difficulty)
    chance += (1.0 - chance) * (0.0, 0.45, 0.97)[min(help_given, 2)]
    if rng.random() < chance:
        return kind.respond(task, task.answer)
    offered = [n for n in (task.choices or range(11)) if n != task.answer]
    weights = [1.0 / abs(n - task.answer) ** 2 for n in offered]
    return kind.respond(task, rng.choices(offered, weights)[0])


class _Clock:
    """A clock that the rehearsal winds on itself."""

    def __init__(self, at: datetime) -> None:
        self.at = at

    def __call__(self) -> datetime:
        return self.at


def play_lane(session: Session, learner: Learner, clock: _Clock, hard: dict[str, float], rng: Random) -> None:
    """One lane from the first task to the last lamp."""
    while (task := session.next_task()) is not None:
        tries = 2 if task.worked else 0
        while session.task is task:
            seconds = rng.lognormvariate(1.6, 0.5)
            clock.at += timedelta(seconds=seconds + 6.0)
            session.answer(answer_of(learner, task, hard[task.step.key], rng, tries), seconds)
            tries += 1
        learner.practise(task.kind, hard[task.step.key])
        clock.at += timedelta(seconds=4)


def rehearse(
    levels: Levels,
    home: Path,
    children: int,
    lanes: int,
    seed: int,
    first_day: datetime,
    progress: Callable[[float], None] = lambda done: None,
) -> str:
    """Play `lanes` lanes with each of `children` learners and write the class list and log into `home`.

    Returns a short table. Raises OSError when `home` cannot be written.
    """
    rng = Random(seed)
    listed = _class_list(children, rng)
    roster.save(home, listed)
    attempts = attempt_log.AttemptLog(home, paths.rescue_file(home), durable=False)
    hard, neighbours = difficulty_of(levels), Neighbours(levels.skills)
    lines: list[str] = []
    written: list[ink.Ink] = []
    pending: list[tuple[datetime, str, Attempt]] = []
    for number, child in enumerate(listed.children):
        learner, mastery = new_learner(rng), ChildMastery(neighbours)
        clock = _Clock(first_day + timedelta(minutes=12 * (number % 20)))
        tally = _Tally()
        day = clock.at
        for lane in range(lanes):
            where = Where("home" if rng.random() < 0.1 else "centre", f"lamp{number % 3 + 1}")
            session = Session(levels, mastery, child, where, rng, clock, tally.take, written.append)
            play_lane(session, learner, clock, hard, rng)
            away = rng.choice(DAYS_BETWEEN)
            day += timedelta(days=away)
            clock.at = day
            learner.rest(away)
            progress((number + (lane + 1) / lanes) / children)
        pending.extend((a.at, a.attempt_id, a) for a in tally.attempts)
        lines.append(tally.line(child, mastery, len(levels.steps)))
    pending.sort(key=lambda entry: entry[:2])
    attempts.append_all(entry[2] for entry in pending)
    attempts.close()
    ink.InkLog(home, paths.rescue_file(home).with_suffix(".ink.jsonl"), durable=False).append_all(written)
    return "\n".join([_HEAD, *lines, f"{len(pending)} attempts in {attempts.path}"])


_HEAD = (
    f"{'child':<12} {'lanes':>5} {'attempts':>8} {'right at first try':>18} {'nearly or secure':>16} {'of steps':>8}"
)


class _Tally:
    """Keeps the attempts of one child and counts them."""

    def __init__(self) -> None:
        self.attempts: list[Attempt] = []

    def take(self, attempt: Attempt) -> None:
        self.attempts.append(attempt)

    def line(self, child: Child, mastery: ChildMastery, steps: int) -> str:
        first = [a for a in self.attempts if a.first_try]
        right = sum(a.right is True for a in first)
        day = self.attempts[-1].at.toordinal()
        reached = sum(state.mastered(day) for state in mastery.steps.values())
        return (
            f"{child.nickname:<12} {mastery.lanes:>5} {len(self.attempts):>8} "
            f"{right / max(len(first), 1):>18.0%} {reached:>16} {steps:>8}"
        )


def _class_list(children: int, rng: Random) -> roster.Roster:
    listed: list[Child] = []
    for number in range(children):
        round_, place = divmod(number, len(NICKNAMES))
        name = NICKNAMES[place] + (f" {round_ + 1}" if round_ else "")
        hand: Hand = "left" if rng.random() < LEFT_HANDED else "right"
        listed.append(Child(name, name, BADGES[number % len(BADGES)], hand))
    return roster.Roster(tuple(listed))
