"""The number track: a stone without its numeral, the next stone, or some steps on from a number."""

from __future__ import annotations

from collections.abc import Iterable

from game.core import phrases
from game.core.layout import Box
from game.core.records import Outcome, Task
from game.core.tasks.number_track import COUNT_ON, NumberTrack, TrackResponse
from game.ui import look
from game.ui.answers import PATH, Answers
from game.ui.draw import Page
from game.ui.scene import Kit, Next, Script
from game.ui.task_scene import Answer, TaskScene
from game.ui.token_walk import TokenWalk
from game.ui.track import Track

WIDE_CARD = Box(44, 132, 1192, 440)
"""The track that is to be walked on needs the whole width."""
WIDE_Y = 366.0
BACK = 3
"""So many numbers are said before one that has no neighbour on its left."""


class NumberTrackScene(TaskScene):
    """A token walks along the stones in help. Steps on without choices are answered on the track itself."""

    def __init__(self, kit: Kit, task: NumberTrack, answer: Answer) -> None:
        super().__init__(kit, task, answer)
        self.card_shown = not self._on_track(task)
        self.track = self._make_track(task)
        self.walk = TokenWalk(self.track, self.calm)
        if task.step.way == COUNT_ON:
            self.walk.stand(task.start)

    @staticmethod
    def _on_track(task: Task) -> bool:
        return task.step.way == COUNT_ON and not task.choices

    def make_answers(self, task: Task) -> Answers:
        if not self._on_track(task):
            return super().make_answers(task)
        width = look.STONE_STEP * (len(PATH) - 1) + look.STONE_WIDTH
        return Answers.path((look.PAGE_WIDTH - width) / 2, self.calm, WIDE_Y)

    def _make_track(self, task: NumberTrack) -> Answers:
        if self._on_track(task):
            return self.answers
        if task.step.way == COUNT_ON:
            return Track.whole(self.calm)
        return Track.piece(task.track, task.answer, self.calm)

    def response(self, number: int) -> TrackResponse:
        return TrackResponse(number)

    def show_hint(self, outcome: Outcome) -> Script:
        """The token takes the first step, or walks from the first stone up to the one that is asked."""
        said = self.say(*outcome.say)
        if self.task.step.way == COUNT_ON:
            self.walk.stand(self.task.start)
            yield said
            yield from self._hop_along([self.task.start + 1])
            return None
        yield said
        yield from self._walk_from_first()
        return None

    def show_way(self) -> Script:
        """The token walks all the way, and the number it comes to is said."""
        if self.task.step.way == COUNT_ON:
            self.walk.stand(self.task.start)
            yield look.SETTLE_S
            yield from self._hop_along(range(self.task.start + 1, self.task.answer + 1))
            return None
        yield from self._walk_from_first()
        yield self.say(phrases.number(self.task.answer))
        self._show_numeral()
        return None

    def _walk_from_first(self) -> Script:
        """From the first stone to the one that is asked, which stays unsaid.

        Where that is the first one, the numbers before it are said; to zero the token comes back.
        """
        first, asked = min(self.track.spots), self.task.answer
        walk = range(first, asked + 1) if asked > 0 else range(min(BACK, max(self.track.spots)), -1, -1)
        self.walk.stand(walk[0])
        before = range(max(0, asked - BACK), asked) if asked == first else walk[:1]
        yield self.say(*(phrases.number(number) for number in before))
        yield from self._hop_along(walk[1:])
        return None

    def _hop_along(self, numbers: Iterable[int]) -> Script:
        asked = self.task.answer if self.task.step.way != COUNT_ON else None
        for number in numbers:
            self.walk.hop(number)
            self.play("step")
            yield self.walk.arrived
            if number != asked:
                yield self.say(phrases.number(number))
        return None

    def _show_numeral(self) -> None:
        if isinstance(self.track, Track):
            self.track.known = True

    def _finish(self, outcome: Outcome) -> Script:
        """The stone gets its numeral; or the token goes where the steps lead."""
        self._show_numeral()
        if self.task.step.way == COUNT_ON:
            self.walk.stand(self.task.start)
            yield from self._hop_along(range(self.task.start + 1, self.task.answer + 1))
        following: Next | None = yield from super()._finish(outcome)
        return following

    def move(self, dt_s: float) -> None:
        self.walk.update(dt_s)

    def draw_material(self, page: Page) -> None:
        if self.track is self.answers:
            page.panel(WIDE_CARD, radius=40, drop=9)
        else:
            self.track.draw(page)
