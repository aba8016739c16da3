"""Number words, drawn from the strokes that children write: large on soft lines, or small on cards to choose from."""

from __future__ import annotations

from collections.abc import Sequence

from game.core.layout import Box, Point
from game.core.tasks.number_words import WORDS
from game.ui import look, shapes
from game.ui.answers import Answers
from game.ui.assets import Pictures
from game.ui.draw import Page

CARD_WIDTH, CARD_HEIGHT = 238.0, 132.0
CARD_STEP = 254.0
CARD_LETTERS = 64.0
FACE_WIDTH = CARD_WIDTH - 16
LIFTED = 8.0
"""What hangs below the base line needs room on the card, so that the word stands a little above its middle."""
LETTERS = 220.0
"""Height from the top line to the base line, in page units."""


def word_shape(pictures: Pictures, number: int, height: float, width: float, ruled: bool, marked: int) -> str:
    """The word of a number as a drawing of that width; `marked` of its letters are set off."""
    word = WORDS[number]
    forms, hand, child = pictures.forms, pictures.hand, pictures.child
    strokes = sum(len(forms.taught(letter, hand, child).strokes) for letter in word[:marked])
    return shapes.word(forms.taught(word, hand, child), height, width, ruled, strokes)


class RuledWord:
    """A large word in the middle of the card; `marked` of its letters are set off."""

    def __init__(self, pictures: Pictures, number: int, centre: Point, width: float) -> None:
        self.centre, self.width = centre, width
        self.marked = 0
        letters = range(len(WORDS[number]) + 1)
        self._drawn = [word_shape(pictures, number, LETTERS, width, True, marked) for marked in letters]

    def draw(self, page: Page) -> None:
        page.shape(self._drawn[self.marked], self.centre, self.width, shapes.WORD_TALL * LETTERS)


class WordCards(Answers):
    """Cards with words on them. `marked` sets off the first letter of each."""

    def __init__(self, pictures: Pictures, spots: dict[int, Point], calm: bool) -> None:
        super().__init__(spots, CARD_WIDTH, calm=calm)
        self.marked = False
        self._drawn = {
            (n, marked): word_shape(pictures, n, CARD_LETTERS, FACE_WIDTH, False, int(marked))
            for n in spots
            for marked in (False, True)
        }

    @classmethod
    def in_a_row(cls, pictures: Pictures, choices: Sequence[int], left: bool, calm: bool) -> WordCards:
        """Below the card, away from the mole."""
        middle = look.PAGE_WIDTH / 2 + (-40 if left else 40)
        first = middle - CARD_STEP * (len(choices) - 1) / 2
        return cls(pictures, {n: (first + CARD_STEP * i, look.ANSWER_Y) for i, n in enumerate(choices)}, calm)

    @property
    def _height(self) -> float:
        return CARD_HEIGHT

    def _draw_card(self, page: Page, centre: Point, pressed: bool) -> None:
        box = Box(centre[0] - CARD_WIDTH / 2, centre[1] - CARD_HEIGHT / 2, CARD_WIDTH, CARD_HEIGHT)
        page.panel(box, look.GLOW if pressed else look.CREAM, radius=24, drop=0 if pressed else 7)

    def _draw_face(self, page: Page, n: int, centre: Point) -> None:
        middle = (centre[0], centre[1] - LIFTED)
        page.shape(self._drawn[n, self.marked], middle, FACE_WIDTH, shapes.WORD_TALL * CARD_LETTERS)
