"""What the first pages tell besides the grid: groups for tomorrow, who is left over, whom to look at, who is quiet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from game.core.levels import Levels
from game.core.records import Step
from game.teacher import groups
from game.teacher.child_view import ChildView
from game.teacher.ideas import load_ideas

QUIET_DAYS = 7
"""After so many days without play the report names the child."""


@dataclass(frozen=True, slots=True)
class GroupView:
    number: int
    members: tuple[ChildView, ...]
    joining: tuple[ChildView, ...]


@dataclass(frozen=True, slots=True)
class CardView:
    """A step and the groups that share it, with one activity for all of them."""

    step: Step
    groups: tuple[GroupView, ...]
    activity: str


@dataclass(frozen=True, slots=True)
class ClassView:
    """What the first page tells besides the grid."""

    cards: tuple[CardView, ...]
    alone: tuple[tuple[ChildView, Step], ...]
    look: tuple[ChildView, ...]
    quiet: tuple[ChildView, ...]
    away: tuple[ChildView, ...]
    unlisted: tuple[ChildView, ...]

    @property
    def count(self) -> int:
        return sum(len(card.groups) for card in self.cards)


def class_view(views: Sequence[ChildView], levels: Levels, today: int) -> ClassView:
    by_id = {view.child.id: view for view in views}
    playing = [view for view in views if view.listed and not view.child.away]
    made, left = groups.form_groups({v.child.id: v.wished for v in playing}, levels.steps)
    return ClassView(
        cards=_cards(made, left, by_id),
        alone=tuple((by_id[e.child], e.step) for e in left if e.joins is None),
        look=tuple(v for v in views if v.together and not v.child.away),
        quiet=tuple(v for v in playing if v.record.last_day is None or today - v.record.last_day >= QUIET_DAYS),
        away=tuple(v for v in views if v.child.away),
        unlisted=tuple(v for v in views if not v.listed),
    )


def _cards(
    made: Sequence[groups.Group], left: Sequence[groups.LeftOver], by_id: Mapping[str, ChildView]
) -> tuple[CardView, ...]:
    ideas = load_ideas()
    cards: dict[str, list[GroupView]] = {}
    for place, group in enumerate(made):
        joining = tuple(by_id[entry.child] for entry in left if entry.joins == place)
        view = GroupView(place + 1, tuple(by_id[i] for i in group.children), joining)
        cards.setdefault(group.step.key, []).append(view)
    steps = {group.step.key: group.step for group in made}
    return tuple(CardView(steps[key], tuple(held), ideas.table(steps[key])) for key, held in cards.items())
