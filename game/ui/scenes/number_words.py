"""Number words: a word on lines and numerals to choose from, or a numeral and words to choose from."""

from __future__ import annotations

from game.core import phrases
from game.core.records import Outcome, Task
from game.core.tasks.number_words import NumberWord, WordResponse
from game.ui import look, shapes
from game.ui.answers import Answers
from game.ui.draw import Page
from game.ui.scene import Kit, Script
from game.ui.task_scene import Answer, TaskScene
from game.ui.words import RuledWord, WordCards

WORD_CENTRE, LINES_WIDTH = (640.0, 338.0), 860.0
NUMERAL_CENTRE, NUMERAL_HEIGHT = (640.0, 338.0), 330.0
UPPER_CENTRE, UPPER_HEIGHT = (640.0, 240.0), 250.0
DOTS_CENTRE, DOTS_WIDTH = (640.0, 488.0), 380.0


class NumberWordsScene(TaskScene):
    """Help sets off the first letter, then ties word, numeral and dots together."""

    def __init__(self, kit: Kit, task: NumberWord, answer: Answer) -> None:
        super().__init__(kit, task, answer)
        self.word = RuledWord(kit.pictures, task.number, WORD_CENTRE, LINES_WIDTH)
        self.dots_shown = False

    def make_answers(self, task: Task) -> Answers:
        if isinstance(task, NumberWord) and task.to_word:
            return WordCards.in_a_row(self.kit.pictures, task.choices, self.kit.left, self.calm)
        return super().make_answers(task)

    def response(self, number: int) -> WordResponse:
        return WordResponse(number)

    def show_hint(self, outcome: Outcome) -> Script:
        self._mark()
        yield self.say(*outcome.say)
        return None

    def _mark(self) -> None:
        """Set off the first letter of the word, or of each word on the cards."""
        if isinstance(self.answers, WordCards):
            self.answers.marked = True
        else:
            self.word.marked = 1

    def show_way(self) -> Script:
        """Letter by letter, then the whole word is said; the right answer glows with the quantity it stands for."""
        self._mark()
        yield look.SETTLE_S
        if isinstance(self.answers, WordCards):
            self.dots_shown = True
        else:
            while self.word.marked < len(self.task.word):
                self.word.marked += 1
                yield look.SHOW_BEAT_S
            self.answers.dots = True
        yield self.say(phrases.number(self.task.number))
        self.answers.right = self.task.number
        yield self.say(phrases.look_at(self.task.number))
        self.word.marked = min(self.word.marked, 1)
        return None

    def draw_material(self, page: Page) -> None:
        if not self.task.to_word:
            self.word.draw(page)
        elif self.dots_shown:
            page.numeral(self.task.number, UPPER_CENTRE, UPPER_HEIGHT)
            page.shape(shapes.dots(self.task.number, DOTS_WIDTH), DOTS_CENTRE, DOTS_WIDTH, DOTS_WIDTH * 0.4)
        else:
            page.numeral(self.task.number, NUMERAL_CENTRE, NUMERAL_HEIGHT)
