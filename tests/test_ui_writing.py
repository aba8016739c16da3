"""Writing on the page: the pen, the dotted way, model and memory, for each hand, by pointer events."""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import numpy as np
import pygame
import pytest
from scipy import ndimage

from game.core import ink, log, phrases
from game.core.layout import Box
from game.core.writing.curves import spaced
from game.ui import look, paper
from game.ui.ink import InkLayer
from game.ui.input import MOUSE, Event
from game.ui.pen import PEN_FIRST_MS, Pen
from game.ui.scenes.write import WriteScene
from game.ui.way import Lantern
from game.ui.window import View
from tests.ui_player import PAGE, Player, task_of
from tests.writing_hand import Hand, shaky

pytestmark = pytest.mark.slow

KIND = {False: "write_numeral", True: "write_word"}


@pytest.fixture
def player(tmp_path: Path) -> Iterator[Player]:
    made = Player(tmp_path)
    yield made
    made.close()


def open_task(player: Player, number: int, way: str, word: bool = False, hand: str = "right", worked: bool = False):
    """The writing page for one task, for a child of that hand."""
    player.app.kit.pictures.hand = hand
    player.app.kit.left = hand == "left"
    return player.open(task_of(KIND[word], number, way, "constructed", worked=worked))


# ---------------------------------------------------------------------- every step, each hand
@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("word", [False, True])
@pytest.mark.parametrize("way", ["trace", "copy", "memory"])
@pytest.mark.parametrize("number", [0, 2, 5, 8, 10])
def test_every_step_is_done_by_each_hand(player, number, way, word, hand):
    scene = open_task(player, number, way, word, hand)
    Hand(player).give(right=True)
    assert scene.done
    attempt = player.logged[0]
    assert (attempt.right, attempt.error, attempt.first_try, attempt.asked) == (True, "", True, scene.task.symbol)
    assert player.said()[-1] == phrases.wrote(number, word)
    player.until(lambda: player.scene.name == "lane")


@pytest.mark.parametrize("word", [False, True])
@pytest.mark.parametrize("way", ["trace", "copy", "memory"])
def test_the_ladder_leads_to_the_lamp_whatever_is_written(player, way, word):
    scene = open_task(player, 7, way, word)
    hand = Hand(player)
    for _ in range(2):
        hand.give(right=False)
        assert not scene.done
    hand.ready()
    assert scene.guided and not scene.desk.free
    hand.give(right=True)
    assert scene.done
    assert [a.right for a in player.logged] == [False, False, True]
    assert [a.help for a in player.logged] == ["none", "hint", "together"]
    assert player.played().count("soft") == 2


def test_together_straying_does_not_matter(player):
    scene = open_task(player, 4, "trace", worked=True)
    Hand(player).trace(strays=12)
    assert scene.done and player.logged[0].help == "together"


def test_a_mirrored_seven_is_shown_the_way_and_told_kindly(player):
    scene = open_task(player, 7, "memory")
    hand = Hand(player)
    hand.ready()
    assert not scene.model_shown
    middle = (scene.desk.lines.left + scene.desk.lines.right) / 2
    hand.write([tuple((2 * middle - x, y) for x, y in line) for line in scene.desk.way_of])
    hand.finish()
    player.wait(1.0)
    assert player.logged[0].error == "mirrored" and phrases.mirror(7) in player.said()
    assert scene.model_shown and scene.desk.lantern is not None
    hand.ready()
    assert not scene.desk.strokes and player.said()[-1] == phrases.HINT_TRY
    hand.give(right=True)
    assert scene.done


def test_a_four_with_its_down_stroke_first_lights_the_lamp_and_the_tip_comes_after(player):
    scene = open_task(player, 4, "copy")
    hand = Hand(player)
    hand.ready()
    hand.write(scene.desk.way_of[::-1])
    hand.finish()
    assert scene.done and player.logged[0].error == "order"
    player.until(lambda: player.scene.name == "lane")
    said = player.said()
    assert said.index(phrases.wrote(4)) < said.index(phrases.TIP_ORDER)


def test_what_cannot_be_read_is_asked_for_again_and_counts_neither_way(player):
    scene = open_task(player, 3, "memory")
    hand = Hand(player)
    hand.ready()
    hand.stroke([(700.0, 300.0)])
    hand.finish()
    hand.ready()
    assert player.logged[0].right is None and not scene.desk.strokes
    assert phrases.HINT_WRITE_AGAIN in player.said() and not scene.model_shown
    hand.give(right=True)
    assert scene.done and player.logged[1].first_try


# ---------------------------------------------------------------------- the way
def test_tracing_waits_where_the_ink_left_and_the_stray_fades(player):
    scene = open_task(player, 2, "trace")
    hand = Hand(player)
    hand.ready()
    line = shaky(scene.desk.way_of[0], 60)
    hand.stroke([*line[:25], *((line[24][0] + 15 * n, line[24][1] + 8 * n) for n in range(12))])
    waits = scene.desk.way.trace.waits_at
    assert scene.desk.strays == 1 and not scene.done
    assert phrases.TRACE_BACK in player.said()
    player.wait(1.2)
    assert not scene.desk._stray.strokes, "the ink beside the way has faded"
    hand.stroke(line[40:])
    assert scene.desk.way.trace.waits_at == waits, "a touch beside the dot does nothing"
    nearest = min(range(60), key=lambda n: (line[n][0] - waits[0]) ** 2 + (line[n][1] - waits[1]) ** 2)
    hand.stroke([waits, *line[nearest:]])
    assert scene.done and player.logged[0].right


def test_each_stroke_of_a_numeral_is_announced_when_its_turn_comes(player):
    scene = open_task(player, 10, "trace")
    hand = Hand(player)
    hand.ready()
    said = len(player.said())
    hand.stroke(shaky(scene.desk.way_of[0]))
    assert player.said()[said:] == ["cue_0_1"] and scene.desk.stroke == 1


def test_a_word_is_shown_and_traced_letter_by_letter_and_no_cue_comes_twice(player):
    scene = open_task(player, 7, "trace", word=True)
    hand = Hand(player)
    hand.ready()
    assert list(scene.desk.letter) == [0]
    hand.trace()
    cues = [clip for clip in player.said() if clip.startswith("cue_")]
    assert scene.done and cues == ["cue_s_1", "cue_e_1", "cue_v_1", "cue_n_1"]


def test_the_left_hand_is_shown_its_own_bar(player):
    scene = open_task(player, 10, "trace", word=True, hand="left")
    Hand(player).ready()
    bar = scene.desk.way_of[1]
    assert bar[0][0] > bar[-1][0] and "cue_t_2_left" in player.said()


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("word", [False, True])
def test_the_model_never_lies_under_the_hand(player, word, hand):
    scene = open_task(player, 8, "copy", word, hand)
    ink_box, model = scene.desk.card, scene.desk.model_card
    buttons = [button.box for button in scene._buttons]
    if hand == "right":
        assert model.x + model.w <= ink_box.x and all(box.x + box.w <= ink_box.centre[0] for box in buttons)
    else:
        assert ink_box.x + ink_box.w <= model.x and all(box.x >= ink_box.centre[0] for box in buttons)
    assert all(box.w >= look.TARGET_LEAST and box.h >= look.TARGET_LEAST for box in buttons)


# ---------------------------------------------------------------------- the pen
def ink_pixels(player: Player) -> int:
    """Dark pixels on the paper that the child writes on."""
    box = player.scene.desk.pen.paper
    seen = pygame.surfarray.array3d(player.pixels())
    part = seen[int(box.x) : int(box.x + box.w), int(box.y) : int(box.y + box.h)]
    return int((part.astype(int).sum(axis=2) < 330).sum())


def test_ink_is_there_on_the_next_frame(player):
    scene = open_task(player, 1, "memory")
    hand = Hand(player)
    hand.ready()
    before = ink_pixels(player)
    player.do(hand.event("press", (700, 200)), *(hand.event("move", (700, 200 + 9 * n)) for n in range(1, 12)))
    player.app.draw()
    now = pygame.surfarray.array3d(player.app.window.surface)
    assert now[700, 295].astype(int).sum() < 330, "the newest bit of ink, where the pen is"
    assert ink_pixels(player) > before + 1000
    assert scene.desk.pen.down


def test_a_second_finger_does_nothing_while_one_writes(player):
    scene = open_task(player, 1, "memory")
    hand = Hand(player)
    hand.ready()
    line = [(700.0, 160.0 + 8 * n) for n in range(40)]
    events = [hand.event("press", line[0])]
    for number, point in enumerate(line[1:]):
        events.append(hand.event("move", point))
        if number == 10:
            events.append(hand.event("press", (1000, 500), pointer=2))
        elif number > 10:
            events.append(hand.event("move", (1000 - number, 500), pointer=2))
    player.do(*events, hand.event("release", (990, 500), pointer=2), hand.event("release", line[-1]))
    assert [len(stroke) for stroke in scene.desk.strokes] == [40]
    assert all(x == 700 for x, _, _ in scene.desk.strokes[0])


def test_a_resting_palm_does_nothing(player):
    scene = open_task(player, 1, "memory")
    hand = Hand(player)
    hand.ready()
    palm = [hand.event("press", (1040, 560), pointer=7), hand.event("move", (1043, 563), pointer=7)]
    player.do(*palm)
    line = [(700.0, 160.0 + 8 * n) for n in range(46)]
    hand.stroke(line)
    player.do(hand.event("move", (1100, 560), pointer=7), hand.event("release", (1100, 560), pointer=7))
    assert [len(stroke) for stroke in scene.desk.strokes] == [46]
    hand.finish()
    assert player.logged[0].right


def test_a_palm_on_the_way_does_not_keep_the_finger_from_tracing(player):
    scene = open_task(player, 7, "trace")
    hand = Hand(player)
    hand.ready()
    player.do(hand.event("press", (900, 560), pointer=7), hand.event("move", (990, 590), pointer=7))
    hand.stroke(shaky(scene.desk.way_of[0]))
    assert scene.done and scene.desk.strays == 0


def test_fingers_rest_while_a_pen_writes():
    pen = Pen(Box(0, 0, 500, 500))
    assert pen.handle(Event("press", 10, 10, MOUSE, at_ms=1000)) == "down"
    assert pen.handle(Event("release", 10, 60, MOUSE, at_ms=1200)) == "up"
    pen.take()
    assert pen.handle(Event("press", 300, 300, 1, at_ms=1300)) == ""
    assert not pen.down
    assert pen.handle(Event("release", 300, 300, 1, at_ms=1400)) == ""
    assert pen.handle(Event("press", 300, 300, 1, at_ms=1200 + PEN_FIRST_MS + 1)) == "down"


def test_the_eraser_takes_the_last_stroke_away(player):
    scene = open_task(player, 4, "memory")
    hand = Hand(player)
    hand.ready()
    assert "erase" not in player.names() and "done" not in player.names()
    hand.write(scene.desk.way_of)
    player.wait(0.1)
    both = ink_pixels(player)
    player.touch("erase")
    player.wait(1.0)
    one = ink_pixels(player)
    assert len(scene.desk.strokes) == 1 and one < both - 500
    player.key("backspace")
    player.wait(1.0)
    assert not scene.desk.strokes and "erase" not in player.names()
    assert ink_pixels(player) < one - 500


def test_a_stroke_ends_when_the_window_loses_the_focus(player):
    scene = open_task(player, 1, "memory")
    hand = Hand(player)
    hand.ready()
    line = [(700.0, 160.0 + 8 * n) for n in range(30)]
    hand.stroke(line, lift=False)
    player.do(hand.event("cancel", line[-1]))
    assert not scene.desk.pen.down and len(scene.desk.strokes) == 1
    player.do(hand.event("move", (900, 500)))
    assert len(scene.desk.strokes[0]) == 30, "no line to where the pointer is later"
    hand.stroke([(760.0, 200.0), (760.0, 300.0)])
    assert len(scene.desk.strokes) == 2


def test_leaving_and_coming_back_keeps_what_was_traced(player):
    scene = open_task(player, 2, "trace")
    hand = Hand(player)
    hand.ready()
    line = shaky(scene.desk.way_of[0], 60)
    hand.stroke(line[:30], lift=False)
    waits = scene.desk.way.trace.waits_at
    player.key("escape")
    assert player.scene.name == "leave"
    player.do(hand.event("release", (640, 400)))
    player.touch("stay" if "stay" in player.names() else player.names()[0])
    player.until(lambda: player.scene is scene)
    assert scene.desk.way.trace.waits_at == waits and not scene.desk.pen.down
    nearest = min(range(60), key=lambda n: (line[n][0] - waits[0]) ** 2 + (line[n][1] - waits[1]) ** 2)
    hand.stroke([waits, *line[nearest:]])
    assert scene.done


# ---------------------------------------------------------------------- the look of ink
def inked(points: list, view: View) -> InkLayer:
    """A layer after these points."""
    pygame.display.init()
    layer = InkLayer(Box(0, 0, 1280, 800), 20.0, view)
    layer.begin(points[0])
    for point in points[1:]:
        layer.add(point)
    layer.end()
    return layer


@pytest.mark.parametrize("apart", [0.7, 4.0, 17.0, 60.0, 140.0])
@pytest.mark.parametrize("size", [PAGE, (1024, 600), (1920, 1080)])
def test_ink_has_no_gaps_and_one_width_at_every_speed(player, apart, size):
    view = View.of(size)
    long = 600.0
    points = [(200 + n * apart, 300.0) for n in range(int(long / apart) + 1)]
    layer = inked(points, view)
    assert ndimage.label(pygame.surfarray.array_alpha(layer._shown) > 60)[1] == 1
    from_x, to_x = round(220 * view.k), round((points[-1][0] - 20) * view.k)
    widths = (pygame.surfarray.array_alpha(layer._mask)[from_x:to_x] > 128).sum(axis=1)
    assert widths.max() - widths.min() <= 1
    assert abs(widths.mean() - 20 * view.k) < 1.5


def test_corners_of_a_fast_curve_are_round(player):
    """Twelve points on a circle: the ink stays near the circle, with no corner at a point."""
    points = [(400 + 150 * np.cos(n * np.pi / 6), 400 + 150 * np.sin(n * np.pi / 6)) for n in range(13)]
    alpha = pygame.surfarray.array_alpha(inked(points, View.of(PAGE))._mask)
    xs, ys = np.nonzero(alpha > 128)
    radius = np.hypot(xs - 400, ys - 400)
    angle = np.arctan2(ys - 400, xs - 400)
    inner = [radius[np.abs(angle - a) < 0.03].mean() for a in np.linspace(-3.0, 3.0, 60) if abs(a) > 0.6]
    assert max(inner) - min(inner) < 6.0


def test_what_was_drawn_bit_by_bit_looks_the_same_when_it_is_drawn_again(player):
    layer = InkLayer(Box(100, 100, 800, 500), 18.0, View.of(PAGE))
    for point in [(200 + 30 * n, 300 + 60 * np.sin(n)) for n in range(12)]:
        layer.add(point)
    layer.end()
    first = pygame.surfarray.array_alpha(layer._shown).astype(int)
    layer._again()
    differs = np.abs(pygame.surfarray.array_alpha(layer._shown).astype(int) - first)
    assert (first > 0).sum() > 4000
    assert (differs > 48).sum() <= 0.005 * (first > 0).sum(), "a few pixels of the edge, a quarter pixel aside"


@pytest.mark.parametrize("way", ["trace", "copy", "memory"])
def test_drawing_changes_nothing(player, way):
    scene = open_task(player, 10, way)
    Hand(player).ready()
    Hand(player).stroke(shaky(scene.desk.way_of[0])[:20], lift=False)
    first, second = player.pixels(), player.pixels()
    assert pygame.image.tobytes(first, "RGB") == pygame.image.tobytes(second, "RGB")


def test_ink_stays_when_the_window_changes_its_size(player):
    scene = open_task(player, 4, "memory")
    hand = Hand(player)
    hand.ready()
    hand.write(scene.desk.way_of)
    small = View.of((1024, 600))
    scene.desk.update(0.02, small)
    assert scene.desk.ink.view == small and len(scene.desk.ink.strokes) == 2
    assert ndimage.label(pygame.surfarray.array_alpha(scene.desk.ink._shown) > 60)[1] in (1, 2)


# ---------------------------------------------------------------------- the whole app
def test_the_ink_of_an_answer_lies_beside_the_log_under_its_id(player, tmp_path):
    sitting = player.app.sitting
    sitting.begin(None)
    sitting.next_task()
    made = task_of("write_numeral", 7, "copy", "constructed")
    sitting._session.task = made
    player.scene.leave()
    player.app.scene = WriteScene(player.app.kit, made, sitting.answer)
    player.app.scene.enter()
    Hand(player).give(right=True)
    attempt = log.read(tmp_path / log.FILE_NAME).attempts[-1]
    held = list(ink.read(tmp_path / ink.FILE_NAME))
    assert [one.attempt_id for one in held] == [attempt.attempt_id]
    strokes = player.scene.desk.strokes
    assert [len(s) for s in held[0].strokes] == [len(s) for s in strokes]
    assert held[0].strokes[0][5][:2] == pytest.approx(strokes[0][5][:2], abs=0.06)
    assert json.loads((tmp_path / ink.FILE_NAME).read_text())["ruling"]["base"] == player.scene.desk.lines.base


def test_numerals_and_words_fit_their_paper_with_room_to_spare(player):
    for word, symbols in ((False, [*map(str, range(11))]), (True, ["three", "seven", "eight", "six"])):
        for symbol in symbols:
            form = player.app.kit.pictures.forms.taught(symbol)
            for card, room in ((look.CARD, paper.SIDE_ROOM), (paper.WORD_CARDS[1], paper.SIDE_ROOM)):
                lines = paper.ruled(card, form, paper.TALLEST_WORD if word else paper.TALLEST)
                points = [p for stroke in lines.place(form) for p in stroke]
                assert min(x for x, _ in points) >= card.x + room - 1
                assert max(x for x, _ in points) <= card.x + card.w - room + 1
                assert max(y for _, y in points) < card.y + card.h - 20
                assert lines.height >= 150, f"{symbol} is {lines.height} high"


def test_a_slow_demonstration_passes_every_part_of_the_stroke(player):
    line = spaced(((0.0, 0.0), (300.0, 0.0), (300.0, 300.0)), 50)
    lantern = Lantern(line, 390.0)
    passed = [point for _ in range(200) for point in lantern.update(1 / 60)]
    assert lantern.arrived() and passed[-1] == pytest.approx(line[-1])
    steps = [((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5 for a, b in pairwise(passed)]
    assert max(steps) < 10
