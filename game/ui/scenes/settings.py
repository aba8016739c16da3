"""The settings of this device. Each choice is saved at once and holds from the next page on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from game.core import phrases
from game.core.errors import Trouble
from game.core.layout import Box
from game.core.settings import Settings
from game.ui import look
from game.ui.corner_page import LEFT, RIGHT, TOP, CornerPage
from game.ui.draw import Page
from game.ui.picture_button import PictureButton
from game.ui.scene import Kit, Next
from game.ui.widgets import Target
from game.ui.word_button import WordButton

Save = Callable[[Settings], None]
"""Writes the settings and lets them hold; raises Trouble."""

ROW_Y, ROW_H = TOP + 66, 116.0
WORDS_W = 380.0
CHOICES_X = LEFT + WORDS_W + 24
BUTTON_H = 74.0
GAP = 8.0


@dataclass(frozen=True, slots=True)
class Row:
    """One setting: its field, its name, what it means, and what can be chosen (value, words)."""

    field: str
    title: str
    says: str
    choices: tuple[tuple[object, str], ...]
    room: float = 0.0
    """Width kept free at the right end."""

    def buttons(self, y: float) -> list[WordButton]:
        width = (RIGHT - CHOICES_X - self.room - GAP * (len(self.choices) - 1)) / len(self.choices)
        return [
            WordButton(
                f"{self.field}_{place}", Box(CHOICES_X + place * (width + GAP), y, width, BUTTON_H), words, size=22
            )
            for place, (_, words) in enumerate(self.choices)
        ]


ROWS = (
    Row(
        "volume", "Voice and sounds",
        "Per cent of the loudest, which is four fifths of what the device can do. The ear tries it.",
        ((0.2, "20"), (0.4, "40"), (0.6, "60"), (0.8, "80"), (1.0, "100")), room=116,
    ),
    Row(
        "lanes", "Lanes in a sitting", "One lane has ten tasks, five to eight minutes. Then the mole goes home.",
        tuple((n, str(n)) for n in range(1, 7)),
    ),
    Row(
        "place", "This device is", "It stands in the log with each task. At home one child alone has the own page.",
        (("centre", "at a centre"), ("home", "at home")),
    ),
    Row(
        "calm", "Movement", "Calm: pictures fade and stand still instead of walking and hopping.",
        ((False, "lively"), (True, "calm")),
    ),
    Row(
        "switch_seconds", "One switch", "The ring walks on by itself; space, or a touch anywhere, takes what it is on.",
        ((0.0, "off"), (1.0, "1 s"), (2.0, "2 s"), (3.0, "3 s"), (4.0, "4 s"), (6.0, "6 s")),
    ),
)  # fmt: skip
HEAR_BOX = Box(RIGHT - 100, ROW_Y - 6, 98, 88)


class SettingsScene(CornerPage):
    """`save` takes the changed settings."""

    name = "settings"
    title = "Settings"

    def __init__(self, kit: Kit, save: Save) -> None:
        super().__init__(kit)
        self._save = save
        self.rows = tuple((row, row.buttons(ROW_Y + ROW_H * place)) for place, row in enumerate(ROWS))
        self.hear = PictureButton("hear", HEAR_BOX, "icons/hear_again")

    def content_targets(self) -> list[Target]:
        return [*(button.target for _, buttons in self.rows for button in buttons), self.hear.target]

    def choose(self, name: str) -> Next | None:
        if name == "hear":
            self.say(phrases.SOUND_CHECK)
            return None
        field, _, place = name.rpartition("_")
        row = next(row for row, _ in self.rows if row.field == field)
        chosen: dict[str, object] = {field: row.choices[int(place)][0]}
        try:
            self._save(replace(self.kit.settings, **chosen))  # type: ignore[arg-type]
            self.notice = ""
        except Trouble as trouble:
            self.notice = str(trouble)
        self.targets.switch_seconds = self.kit.settings.switch_seconds
        if field == "volume":
            self.say(phrases.SOUND_CHECK)
        return None

    def draw_content(self, page: Page) -> None:
        for place, (row, buttons) in enumerate(self.rows):
            y = ROW_Y + ROW_H * place
            page.text_from(row.title, (LEFT, y + 8), look.TEXT, bold=True)
            page.paragraph(row.says, Box(LEFT, y + 28, WORDS_W, 80), 18, most=3)
            held = getattr(self.kit.settings, row.field)
            for (value, _), button in zip(row.choices, buttons, strict=True):
                button.draw(page, self.targets, chosen=value == held)
        self.hear.draw(page, self.targets)
        self.draw_notice(page)
