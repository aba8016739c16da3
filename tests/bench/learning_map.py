"""The map of steps on which the learning bench plays: the shipped levels when they are many, else one made here."""

from __future__ import annotations

from game import paths
from game.core.levels import Levels, load_levels
from game.core.records import Form, Skill, Step

ENOUGH_STEPS = 40
SIZES = (4, 4, 4, 4, 4, 4, 4, 4, 4, 3, 3, 3)
FORMS: tuple[Form, ...] = ("choice3", "choice4", "constructed", "constructed")


def the_map() -> tuple[Levels, str]:
    """The levels to play and a word about them."""
    levels = load_levels([paths.data("levels")])
    if len(levels.steps) >= ENOUGH_STEPS:
        return levels, "the shipped levels"
    return made_up(), "a made-up map"


def made_up() -> Levels:
    """Twelve skills, 45 steps; each step needs the one before, a later skill also a step of an earlier one."""
    skills = []
    for i, size in enumerate(SIZES):
        steps = []
        for k in range(size):
            needs = [f"skill_{i}.step_{k - 1}"] if k else []
            if k == 0 and i > 1:
                needs.append(f"skill_{i // 2}.step_1")
            if k == 2 and i > 0:
                needs.append(f"skill_{i - 1}.step_1")
            steps.append(
                Step(f"skill_{i}", f"step_{k}", f"step {k}", "count_set", FORMS[k], (1,), "", "", needs=tuple(needs))
            )
        skills.append(Skill(f"skill_{i}", f"skill {i}", tuple(steps)))
    return Levels(tuple(skills))
