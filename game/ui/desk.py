"""What lies in front of a child who writes: paper with lines, a model, the dotted way, the pen and its ink."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise
from typing import Literal

from game.core.ink import Stroke
from game.core.layout import Box
from game.core.writing.forms import Form
from game.ui import look, paper
from game.ui.draw import Page
from game.ui.ink import InkLayer
from game.ui.input import Event
from game.ui.paper import Sketch
from game.ui.pen import Pen
from game.ui.way import Lantern, Way
from game.ui.window import View

Happened = Literal["", "stroke", "letter", "all", "strayed"]
PEN_SHARE, PEN_LEAST = 0.055, 13.0
"""Width of the pencil in heights of a numeral, and the least in units."""
GHOST = 0.6


class Desk:
    """`letters` tells how many strokes of the form are traced in one go. With `tracing` the paper fills the card, else
    a model's card lies beside it, on the side that the writing hand never covers."""

    def __init__(self, form: Form, letters: Sequence[int], tracing: bool, left_hand: bool, view: View) -> None:
        word = len(letters) > 1
        tallest = paper.TALLEST_WORD if word else paper.TALLEST if tracing else paper.TALLEST_BESIDE
        beside, writing = paper.WORD_CARDS if word else paper.CARDS
        if left_hand:
            writing, beside = paper.other_side(writing), paper.other_side(beside)
        self.card = look.CARD if tracing else writing
        self.model_card = beside
        self.lines = paper.ruled(self.card, form, tallest, 1.0 if tracing else paper.LOOSE)
        self.way_of = self.lines.place(form)
        self.model_lines = paper.ruled(self.model_card, form, self.lines.height, room=paper.MODEL_ROOM)
        self._model, self.model_way = paper.model(form, self.model_lines)
        self._ruling = self.lines.sketch()
        self._ghost = Sketch(
            paper.around(self.way_of, 40), [paper.stroked(self.way_of, look.PAPER_SHADE, 0.1 * self.lines.height)]
        )
        ends = [0, *accumulate(letters)]
        self._letters = [range(a, b) for a, b in pairwise(ends)]
        self._word = word
        self._at = 0
        box = Box(self.card.x + 8, self.card.y + 8, self.card.w - 16, self.card.h - 16)
        width = max(PEN_LEAST, PEN_SHARE * self.lines.height)
        self.ink = InkLayer(box, width, view)
        self._stray = InkLayer(box, width, view)
        self.shown = InkLayer(box, paper.MODEL_PEN * self.lines.height, view)
        self.pen = Pen(box)
        self.strokes: list[Stroke] = []
        self.way: Way | None = None
        self.free = not tracing
        self.ease = 1.0
        self.lantern: Lantern | None = None
        self.lantern_inks = False
        self._strays = 0
        self._straying = False

    # ------------------------------------------------------------------ the way
    @property
    def letter(self) -> range:
        """The strokes that are shown and traced now."""
        return self._letters[self._at]

    @property
    def stroke(self) -> int:
        """The stroke of the form that is to be followed now."""
        done = 0 if self.way is None else self.way.trace.stroke
        return min(self.letter.start + done, self.letter.stop - 1)

    @property
    def strays(self) -> int:
        return self._strays + (0 if self.way is None else self.way.trace.strays)

    @property
    def inked(self) -> bool:
        return bool(self.strokes) or self.pen.down

    def begin_way(self, ease: float) -> None:
        """The strokes of this letter are to be followed from now on."""
        self._put_way_by()
        self.free = False
        self.way = Way([self.way_of[number] for number in self.letter], self.lines.height, ease)
        self.way.update(0.0)

    def next_letter(self) -> None:
        self._put_way_by()
        self._at += 1

    def start_over(self) -> None:
        """Clean paper; the first letter is the next."""
        self.clear()
        self._put_way_by()
        self._at = self._strays = 0
        self.free = False

    def trace_again(self) -> None:
        self.start_over()
        self.begin_way(self.ease)

    def _put_way_by(self) -> None:
        self._strays = self.strays
        self.way = None

    # ------------------------------------------------------------------ the pen
    def handle(self, event: Event, listening: bool) -> Happened:
        """Take in an event of the pen."""
        point = (event.x, event.y)
        idle = not self.free and (self.way is None or not self.way.trace.on)
        did = self.pen.handle(event, yields=idle)
        if did == "swap":
            self.ink.drop()
            self._stray.drop()
        if did == "" or not listening:
            return ""
        if self.free:
            self._write(did, point)
            return ""
        return self._follow(did, point) if self.way is not None else ""

    def _write(self, did: str, point: tuple[float, float]) -> None:
        if did in ("down", "swap"):
            self.ink.begin(point)
        elif did == "on":
            self.ink.add(point)
        else:
            self._end_stroke()

    def _end_stroke(self) -> None:
        self.ink.end()
        stroke = self.pen.take()
        if stroke:
            self.strokes.append(stroke)

    def _follow(self, did: str, point: tuple[float, float]) -> Happened:
        assert self.way is not None
        trace = self.way.trace
        if did == "up":
            trace.lift()
            self._end_stroke()
            strayed, self._straying = self._straying, False
            self._stray.clear()
            return "strayed" if strayed else ""
        was_on = trace.on
        step = trace.press(point) if did != "on" else trace.move(point)
        if step == "off":
            self._leave(point, was_on, did)
            return ""
        if self._straying:
            self._straying = False
            self._stray.clear()
        self.ink.add(point)
        if step == "on":
            return ""
        self.ink.end()
        if step == "stroke":
            return "stroke"
        self._end_stroke()
        self.pen.let_go()
        return "letter" if self._at + 1 < len(self._letters) else "all"

    def _leave(self, point: tuple[float, float], was_on: bool, did: str) -> None:
        """The ink is not on the way: where it left, it fades."""
        assert self.way is not None
        if was_on:
            self.ink.end()
            self._straying = True
        if self._straying:
            self._stray.add(point)
        elif did != "on":
            self.way.nudge()

    def lift(self) -> None:
        """The pen is lifted, whatever it was doing."""
        if self.pen.let_go():
            self._end_stroke()
        if self.way is not None:
            self.way.trace.lift()
        self._straying = False
        self._stray.clear()

    def undo(self) -> None:
        self.lift()
        if self.strokes:
            self.strokes.pop()
            self.ink.undo()

    def clear(self) -> None:
        self.lift()
        self.strokes.clear()
        self.ink.clear()

    # ------------------------------------------------------------------ time and paint
    def update(self, dt_s: float, view: View) -> None:
        if self.lantern is not None:
            passed = self.lantern.update(dt_s)
            if self.lantern_inks and not self.lantern.arrived():
                for point in passed:
                    self.shown.add(point)
        if self.way is not None:
            self.way.update(dt_s)
        for layer in (self.ink, self._stray, self.shown):
            layer.update(dt_s, view)

    def draw(self, page: Page, model_shown: bool, listening: bool, calm: bool) -> None:
        page.panel(self.card, radius=40, drop=9)
        if model_shown:
            page.panel(self.model_card, radius=40, drop=9)
            self._model.draw(page)
        self._ruling.draw(page)
        if self._word and not self.free:
            self._ghost.draw(page, GHOST)
        waits = self.way is not None and listening and not self.way.trace.on
        if self.way is not None:
            self.way.draw_road(page, waits, calm)
        self.shown.draw(page)
        self._stray.draw(page, 0.5)
        self.ink.draw(page)
        if self.way is not None and waits:
            self.way.draw_start(page)
        if self.lantern is not None:
            self.lantern.draw(page)
