"""All colours, sizes and timings of the page. Lengths are page units (the page is 1280 x 800), times seconds."""

from __future__ import annotations

from game.core.layout import Box

Colour = tuple[int, int, int]

PAGE_WIDTH, PAGE_HEIGHT = 1280, 800
SMALLEST_WINDOW = (640, 400)

INK = (43, 36, 64)
NIGHT = (42, 49, 87)
DUSK = (75, 79, 134)
MAUVE = (125, 106, 158)
ROSE = (201, 138, 151)
PEACH = (242, 179, 138)
GLOW = (255, 225, 163)
LAMP = (255, 201, 77)
CREAM = (251, 243, 228)
PAPER_SHADE = (234, 223, 200)
LEAF = (95, 143, 99)
MOSS = (63, 107, 87)
TEAL = (63, 143, 147)
BRICK = (198, 95, 74)
WOOD = (164, 113, 74)
STONE = (139, 138, 160)
STRAW = (227, 187, 107)
SNOW = (255, 255, 255)
QUIET_TEXT = (96, 84, 110)
"""For words of lesser weight on the card: 6.6 to 1 on CREAM."""

LINE = 5.0
"""Outline of cards and stones."""

TARGET_LEAST = 96.0
"""Side of the smallest hit area (over 15 mm on a 13-inch screen)."""
TARGET_SLACK = 14.0
"""How far a finger may slide off a pressed target before the press is let go."""

CARD = Box(132, 52, 1016, 572)
"""The paper on which the material of a task lies."""
ANSWER_Y = 712.0
"""Centre line of the answers below the card."""
ANSWER_CARD = 128.0
ANSWER_STEP = 162.0
ANSWER_NUMERAL = 82.0
STONE_STEP = 98.0
STONE_WIDTH, STONE_HEIGHT = 92.0, 96.0
STONE_NUMERAL = 54.0
PEN = 0.13
"""Width of the pen that draws numerals, in heights of the numeral."""
WORD_PEN = 0.10
"""The same for words, whose letters are half as high."""

MOLE_WIDTH = 150.0
MOLE_CENTRE = (84.0, 706.0)
LEAVE_BOX = Box(24, 22, 84, 84)

TEXT = 26.0
TEXT_SMALL = 20.0
TEXT_TITLE = 34.0
LINE_STEP = 1.36
"""From one line of words to the next, in sizes of the letters."""
LABEL_HEIGHT = 30.0
STRIP_HEIGHT = 46.0

FRAMES_A_SECOND = 60
LONGEST_FRAME_S = 0.05
"""A longer frame (the laptop slept, the disk was busy) counts as this long."""
STALE_S = 1.0
"""After a frame this long, what was pressed meanwhile is dropped: nobody saw what it was pressed on."""
CLIP_GAP_S = 0.18
"""Silence between two clips of one speech."""
TALK_BEAT_S = 0.26
"""The talking mole opens and closes its mouth at this beat: under two changes of the picture a second each way."""
DEAF_S = 0.45
"""A new page takes no answer for so long: the finger is still there from the page before."""
SETTLE_S = 0.9
"""After a wrong answer none is taken for so long: a bouncing finger is not a second answer."""
TEN_WAIT_S = 0.8
"""How long the key 1 waits for a 0 to become ten."""
HOP_S = 0.45
SLIDE_S = 0.7
FADE_S = 0.4
SHOW_BEAT_S = 0.35
"""Pause between two number words when the app counts slowly."""
STILL_AFTER_S = 4.8
"""Whatever moves by itself stands still after this long."""
