"""A player for tests: the whole app without a screen, moved by the second, touched by the names of its targets."""

from __future__ import annotations

import json
import os

os.environ.setdefault("SDL_VIDEODRIVER", "dummy")
os.environ.setdefault("SDL_AUDIODRIVER", "dummy")

from collections.abc import Callable, Collection
from datetime import datetime, timedelta
from pathlib import Path
from random import Random
from typing import Any

import pygame

from game.app import App, PlayOptions
from game.commands.office import office
from game.core.levels import Levels, load_levels
from game.core.mastery import ChildMastery, Neighbours
from game.core.records import GUEST, Attempt, Step, Task
from game.core.session import Session, Where
from game.core.tasks import KINDS
from game.paths import data
from game.ui.input import Event
from game.ui.scene import Next
from game.ui.scenes.tasks import TASK_SCENES
from game.ui.task_scene import TaskScene
from game.ui.window import Window

STEP_S = 0.05
PAGE = (1280, 800)


class Evening:
    """A clock that moves on by a second at each look."""

    def __init__(self) -> None:
        self.at = datetime(2026, 3, 2, 17, 0)

    def __call__(self) -> datetime:
        self.at += timedelta(seconds=1)
        return self.at


class Player:
    """Plays the app in `home`; with `kinds` only these skills come."""

    def __init__(
        self,
        home: Path,
        size: tuple[int, int] = PAGE,
        seed: int = 5,
        child: str | None = None,
        kinds: Collection[str] = (),
    ) -> None:
        self.journal = home / "journal.jsonl"
        options = PlayOptions(home=home, seed=seed, size=size, child=child, journal=self.journal, office=office())
        self.app = App(options, Window(size), Evening(), Random(seed))
        self.app.after_first_frame()
        levels = self.app.sitting._levels
        if kinds and levels is not None:
            object.__setattr__(levels, "skills", tuple(skill for skill in levels.skills if skill.id in kinds))
        self.logged: list[Attempt] = []
        self.wait(0.05)

    @property
    def scene(self) -> Any:
        return self.app.scene

    def names(self) -> list[str]:
        return [target.name for target in self.scene.targets.all]

    def do(self, *events: Event) -> None:
        self.app.advance(list(events), STEP_S)

    def wait(self, seconds: float) -> None:
        for _ in range(max(1, round(seconds / STEP_S))):
            self.app.advance([], STEP_S)

    def until(self, true: Callable[[], bool], seconds: float = 60.0) -> None:
        """Let time go by until something is so; AssertionError when it takes too long."""
        for _ in range(round(seconds / STEP_S)):
            if true():
                return
            self.app.advance([], STEP_S)
        raise AssertionError(f"waited {seconds} s on the page {self.scene.name} with {self.names()}")

    def touch(self, name: str) -> None:
        target = next(target for target in self.scene.targets.all if target.name == name)
        x, y = target.box.centre
        self.do(Event("press", x, y), Event("release", x, y))

    def key(self, *keys: str) -> None:
        for key in keys:
            self.do(Event("key", key=key))

    def lines(self) -> list[dict[str, Any]]:
        return [json.loads(line) for line in self.journal.read_text(encoding="utf-8").splitlines()]

    def said(self) -> list[str]:
        return [clip for line in self.lines() for clip in line.get("say", ())]

    def played(self) -> list[str]:
        return [line["play"] for line in self.lines() if "play" in line]

    def pixels(self) -> pygame.Surface:
        """What the window shows, with every picture sharp."""
        self.app.draw()
        self.app.kit.pictures.work(wait=True)
        self.app.draw()
        return self.app.window.surface.copy()

    def open(self, task: Task) -> TaskScene:
        """Show one task, as the next of a session that keeps its attempts in `logged`."""
        levels = shipped()
        mastery = ChildMastery(Neighbours(levels.skills))
        session = Session(levels, mastery, GUEST, Where(), Random(1), Evening(), self.logged.append)
        session.task = task
        self.scene.leave()
        scene = TASK_SCENES[task.kind](self.app.kit, task, session.answer)
        self.app.scene = scene
        scene.enter()
        self.wait(0.05)
        return scene

    def go(self, name: str, about: object = None) -> None:
        self.app.go(Next(name, about))
        self.wait(0.05)

    def close(self) -> None:
        self.app.close()


def shipped() -> Levels:
    return load_levels([data("levels")])


def task_of(
    kind: str,
    number: int,
    way: str = "",
    form: str = "choice3",
    arrangement: str = "",
    seed: int = 1,
    worked: bool = False,
) -> Task:
    """A task of that kind and number, as its own module makes it."""
    arrangements = (arrangement,) if arrangement else ()
    step = Step("skill", "step", "", kind, form, (number,), way or KINDS[kind].ways[0], "", arrangements)  # type: ignore[arg-type]
    made = KINDS[kind].make(step, step.form, "new", Random(seed), None)
    object.__setattr__(made, "worked", worked)
    return made
