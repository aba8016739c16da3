"""Write a numeral or a number word: along the dotted way, beside a model, or from memory."""

from __future__ import annotations

from collections.abc import Callable

from game.core import phrases
from game.core.layout import Box
from game.core.records import Outcome, Task
from game.core.tasks import writing
from game.core.tasks.writing import MEMORY, TRACE, WriteResponse, WriteTask, WriteVerdict
from game.ui import look, paper
from game.ui.answers import Answers
from game.ui.desk import Desk
from game.ui.draw import Page
from game.ui.input import Event
from game.ui.picture_button import PictureButton
from game.ui.scene import Kit, Next, Script
from game.ui.task_scene import Answer, TaskScene
from game.ui.way import Lantern
from game.ui.widgets import Target

DONE, ERASE = "done", "erase"
DONE_BOX = Box(338, 640, 156, 142)
ERASE_BOX = Box(188, 648, 126, 126)
BIG_MOLE = 250.0
BIG_MOLE_CENTRE = (262.0, 492.0)
GUIDED_EASE, SECOND_EASE = 1.7, 1.3
"""How much wider the way is when it is traced together with the mole, and at the second try."""
AFTER_STROKE_S = 0.25


class WriteScene(TaskScene):
    """The desk holds paper, ink and way; the scene says what is heard and what comes when."""

    card_shown = False

    def __init__(self, kit: Kit, task: WriteTask, answer: Answer) -> None:
        super().__init__(kit, task, answer)
        self.answers_shown = False
        self.left_hand = kit.pictures.hand == "left"
        self.form = kit.pictures.forms.taught(task.symbol, kit.pictures.hand, kit.pictures.child)
        self.desk = Desk(self.form, self._letters(task), task.step.way == TRACE, self.left_hand, kit.pictures.view)
        self.model_shown = task.step.way not in (TRACE, MEMORY)
        self.guided = False
        self._cued: set[str] = set()
        self._place_mole()
        self._buttons = [
            PictureButton(DONE, self._on_model_side(DONE_BOX), "icons/done", ("d",)),
            PictureButton(ERASE, self._on_model_side(ERASE_BOX), "icons/eraser", ("backspace",)),
        ]

    def make_answers(self, task: Task) -> Answers:
        return Answers({}, 1.0)

    def _letters(self, task: WriteTask) -> list[int]:
        """How many strokes are shown and traced in one go: a letter of a word, the whole of a numeral."""
        if not task.is_word:
            return [len(self.form.strokes)]
        pictures = self.kit.pictures
        return [len(pictures.forms.taught(s, pictures.hand, pictures.child).strokes) for s in task.symbol]

    def _on_model_side(self, box: Box) -> Box:
        """Where the writing hand never lies: on the left for a right hand, on the right for a left hand."""
        return paper.other_side(box) if self.left_hand else box

    def _place_mole(self) -> None:
        """Heard only: the mole stands large where the model would be."""
        if self.task.step.way == MEMORY and not self.model_shown:
            x, y = BIG_MOLE_CENTRE
            self.mole_width = BIG_MOLE
            self.mole_centre = self.side((look.PAGE_WIDTH - x, y) if self.left_hand else (x, y))
        else:
            self.mole_width, self.mole_centre = look.MOLE_WIDTH, look.MOLE_CENTRE

    # ------------------------------------------------------------------ the pen
    def handle(self, event: Event) -> Next | None:
        pen = self.desk.pen
        if pen.wants(event) and (self._listening or event.kind != "press"):
            self._written(self.desk.handle(event, self._listening))
            return None
        following = super().handle(event)
        if following is not None and following.over:
            self.desk.lift()
        return following

    def _written(self, happened: str) -> None:
        """What the pen did on the way: a stroke, a whole letter or all of it was followed, or it strayed."""
        if happened == "stroke":
            self.play("place")
            self.say(self._cue)
        elif happened == "letter":
            self.play("place")
            self.run(self._next_letter())
        elif happened == "all":
            self._give(self.task.number)
        elif happened == "strayed" and self.kit.sound.quiet():
            self.say(phrases.TRACE_BACK)

    @property
    def _cue(self) -> str:
        return self.form.strokes[self.desk.stroke].cue

    def material_targets(self) -> list[Target]:
        return [button.target for button in self._buttons] if self.desk.free and self.desk.inked else []

    def touch(self, name: str) -> None:
        if name == ERASE:
            self.play("lift")
            self.desk.undo()
        elif name == DONE and self._deaf_s <= 0:
            self.desk.lift()
            self._give(self.task.number)

    def hear_again(self) -> None:
        if self._listening:
            self.say(*(self.asking if self.desk.free else (self._cue,)))

    def response(self, number: int) -> WriteResponse:
        desk = self.desk
        return WriteResponse(
            strokes=tuple(desk.strokes),
            hand=self.kit.pictures.hand,
            lines=(desk.lines.top, desk.lines.base),
            strays=None if desk.free else desk.strays,
            guided=self.guided,
            forms=self.kit.pictures.forms,
            child=self.kit.pictures.child,
        )

    # ------------------------------------------------------------------ what is shown and said
    def ask(self) -> Script:
        if self.task.step.way != TRACE:
            yield from super().ask()
            return None
        self.showing = True
        self.mole_pose = "point"
        yield self.say(*self.task.prompt)
        yield from self._show_letter()
        self.mole_pose = "stand"
        self.showing = False
        yield self.say(phrases.ASK_TRACE)
        return None

    def _show_letter(self) -> Script:
        """The lantern writes the next letter (or the whole numeral) slowly, each stroke with its cue."""
        desk = self.desk
        for number in desk.letter:
            cue = self.form.strokes[number].cue
            said = self.kit.sound.quiet if cue in self._cued else self.say(cue)
            self._cued.add(cue)
            yield from self._lead(Lantern(desk.way_of[number], desk.lines.height), inks=True)
            yield said
            yield AFTER_STROKE_S
        desk.lantern = None
        yield look.SHOW_BEAT_S
        desk.shown.clear()
        desk.begin_way(self._ease)
        return None

    def _lead(self, lantern: Lantern, inks: bool) -> Script:
        self.desk.lantern, self.desk.lantern_inks = lantern, inks
        yield lantern.arrived
        self.desk.shown.end()
        return None

    @property
    def _ease(self) -> float:
        return GUIDED_EASE if self.guided else self.desk.ease

    def _next_letter(self) -> Script:
        self.showing = True
        self.mole_pose = "point"
        self.desk.next_letter()
        yield look.SHOW_BEAT_S
        yield from self._show_letter()
        self.mole_pose = "stand"
        self.showing = False
        yield self.say(phrases.TOGETHER_TURN)
        return None

    def show_hint(self, outcome: Outcome) -> Script:
        """What was traced is traced again on a wider way; else the model comes, and shows where it sets off."""
        self.showing = True
        if not self.desk.free:
            yield self.say(*outcome.say)
            self.desk.ease = SECOND_EASE
            self.desk.trace_again()
        elif outcome.verdict.right is None:
            yield self.say(*outcome.say)
            self.desk.clear()
        else:
            said = self._look_at_model(*outcome.say)
            yield from self._run_along(outcome)
            yield said
            self.desk.clear()
            self.showing = False
            yield self.say(phrases.HINT_TRY)
        self.showing = False
        return None

    def _look_at_model(self, *clips: str) -> Callable[[], bool]:
        self.model_shown = True
        self._place_mole()
        self.mole_pose = "point"
        return self.say(*clips)

    def _run_along(self, outcome: Outcome) -> Script:
        """The lantern goes along those strokes of the model that the verdict is about."""
        for number in outcome.verdict.strokes if isinstance(outcome.verdict, WriteVerdict) else ():
            yield from self._lead(Lantern(self.desk.model_way[number], self.desk.model_lines.height), inks=False)
            yield AFTER_STROKE_S
        self.desk.lantern = None
        return None

    def show_way(self) -> Script:
        """The mole writes it on the child's own lines; the child then traces it."""
        self.guided = True
        self.desk.start_over()
        yield from self._show_letter()
        return None

    def _finish(self, outcome: Outcome) -> Script:
        """The number is named; then, after the praise is earned, one tip if it was formed in another way."""
        tip = writing.tip(outcome.verdict)
        yield self.say(*outcome.say)
        if tip:
            said = self._look_at_model(*tip)
            yield from self._run_along(outcome)
            yield said
        elif outcome.praise:
            yield self.say(*outcome.praise)
        yield look.SHOW_BEAT_S
        return Next("lane")

    # ------------------------------------------------------------------ time and paint
    def move(self, dt_s: float) -> None:
        self.desk.update(dt_s, self.kit.pictures.view)

    def draw_material(self, page: Page) -> None:
        self.desk.draw(page, self.model_shown, self._listening, self.calm)
        if self._listening and self.desk.free and self.desk.inked:
            for button in self._buttons:
                button.draw(page, self.targets)
