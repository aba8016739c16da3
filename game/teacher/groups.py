"""Groups for tomorrow: children who share a next step, three to five each, and what happens with who is left over."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from game.core import planner
from game.core.levels import Levels
from game.core.mastery import ChildMastery
from game.core.records import Step

LEAST, MOST = 3, 5
Wishes = tuple[tuple[Step, ...], tuple[Step, ...], tuple[Step, ...]]
"""The steps that would be right for a child tomorrow: those begun, those new, those to look at again."""


@dataclass(frozen=True, slots=True)
class Group:
    step: Step
    children: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LeftOver:
    """A child whose next steps too few others share; `joins` is the place of a group nearby (None: none has room)."""

    child: str
    step: Step
    joins: int | None


def wishes(levels: Levels, mastery: ChildMastery, day: int) -> Wishes:
    """The open steps begun and new; to look at again: what resting steps need, what fades, else what was there."""
    seen = planner.outlook(levels, mastery, day, mastery.lanes + 1)
    begun = tuple(s for s in seen.ready if s.key in mastery.steps and mastery.steps[s.key].tries)
    new = tuple(s for s in seen.ready if s not in begun)
    needs = tuple(levels.step(need) for s in seen.resting for need in s.needs)
    held = sorted(seen.held, key=lambda s: planner.chance(mastery, s.key, day))
    return (begun, new, tuple(dict.fromkeys((*needs, *seen.fading))) or (*seen.resting, *held)[:3])


def next_step(wished: Wishes) -> Step | None:
    return next((step for round_ in wished for step in round_), None)


def form_groups(wanted: Mapping[str, Wishes], steps: Sequence[Step]) -> tuple[tuple[Group, ...], tuple[LeftOver, ...]]:
    """Groups of LEAST to MOST children, the most shared step first; the earlier step where two are shared alike.

    Every child is in one group or left over. A child left over sits with a group of the same skill that has room.
    """
    waiting = dict(wanted)
    groups: list[Group] = []
    for rounds in (1, 2, 3):
        while True:
            step, children = _most_shared(waiting, steps, rounds)
            if step is None or len(children) < LEAST:
                break
            groups.extend(Group(step, part) for part in _split(children))
            for child in children:
                del waiting[child]
    room = [MOST - len(group.children) for group in groups]
    left: list[LeftOver] = []
    for child, wished in waiting.items():
        step = next_step(wished)
        if step is None:
            continue
        joins = next((i for i, g in enumerate(groups) if room[i] > 0 and g.step.skill == step.skill), None)
        if joins is not None:
            room[joins] -= 1
        left.append(LeftOver(child, step, joins))
    return tuple(groups), tuple(left)


def _most_shared(
    waiting: Mapping[str, Wishes], steps: Sequence[Step], rounds: int
) -> tuple[Step | None, tuple[str, ...]]:
    best: Step | None = None
    most: tuple[str, ...] = ()
    for step in steps:
        found = tuple(c for c, wished in waiting.items() if step in _wanted(wished, rounds))
        if len(found) > len(most):
            best, most = step, found
    return best, most


def _wanted(wished: Wishes, rounds: int) -> tuple[Step, ...]:
    """The child's steps in that round of forming groups; what was there before only where nothing else is open."""
    begun, new, again = wished
    return (begun, begun + new, begun + new or again)[rounds - 1]


def _split(children: Sequence[str]) -> list[tuple[str, ...]]:
    """Parts of three to five, as even as can be; needs at least three children."""
    parts = ceil(len(children) / MOST)
    size, more = divmod(len(children), parts)
    cut: list[tuple[str, ...]] = []
    at = 0
    for number in range(parts):
        upto = at + size + (number < more)
        cut.append(tuple(children[at:upto]))
        at = upto
    return cut
