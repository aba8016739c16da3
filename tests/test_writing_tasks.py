"""Writing numerals and number words: what is asked, how ink is judged and answered, the way, the ink that is kept."""

from __future__ import annotations

import json
import math
import os
import tomllib
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from game import paths, rehearsal
from game.core import ink, log, phrases
from game.core.ink import Ink, InkLog
from game.core.levels import Levels
from game.core.mastery import ChildMastery, Neighbours
from game.core.records import Skill, Step
from game.core.session import UNSURE_MOST, Session, Where
from game.core.tasks import KINDS, writing
from game.core.tasks.writing import WriteResponse, WriteTask
from game.core.writing.curves import length, spaced
from game.core.writing.forms import load_forms
from game.core.writing.tracing import Reach, Trace
from game.teacher.ink import InkBook
from tests.conftest import MIRA, Clock

FORMS = load_forms(paths.data("levels") / "forms")
TURNABLE = [n for n in range(10) if n not in phrases.NO_MIRROR]
KIND_OF = {False: KINDS["write_numeral"], True: KINDS["write_word"]}


def task(number: int, way: str = "memory", word: bool = False) -> WriteTask:
    kind = KIND_OF[word]
    step = Step("s", "x", "X", kind.id, "constructed", (number,), way, "K.CC.A.3")
    made = kind.make(step, "constructed", "new", Random(1), None)
    assert isinstance(made, WriteTask)
    return made


def written(made: WriteTask, hand: str = "right", **changes: object) -> WriteResponse:
    """The taught form of that hand, with a hand's wobble, free or along the way."""
    answer = KINDS[made.kind].respond(made, made.answer)
    assert isinstance(answer, WriteResponse)
    if hand == "left":
        strokes = [
            tuple((300 + x * 400, 138 + y * 400, 8.0 * n) for n, (x, y) in enumerate(stroke.points(50)))
            for stroke in FORMS.taught(made.symbol, "left").strokes
        ]
        changes["strokes"] = tuple(strokes)
    return replace(answer, hand=hand, **changes)  # type: ignore[arg-type]


def turned(response: WriteResponse) -> WriteResponse:
    """The same ink as a looking-glass shows it."""
    return replace(response, strokes=tuple(tuple((1280 - x, y, at) for x, y, at in s) for s in response.strokes))


def lower(strokes):
    return tuple(tuple((x, y + 200, at) for x, y, at in stroke) for stroke in strokes)


def session_of(made: WriteTask) -> tuple[Session, list, list[Ink]]:
    lines: list = []
    inks: list[Ink] = []
    levels = Levels((Skill("s", "S", (made.step,)),))
    mastery = ChildMastery(Neighbours(levels.skills))
    session = Session(levels, mastery, MIRA, Where(), Random(1), Clock(), lines.append, inks.append)
    session.task = made
    return session, lines, inks


# ---------------------------------------------------------------------- judging
@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("word", [False, True])
@pytest.mark.parametrize("number", range(11))
def test_the_taught_form_of_each_hand_is_right_and_has_no_slip(number, word, hand):
    # K.CC.A.3 (Common Core State Standards for Mathematics, 2010; copy): write numbers from 0
    made = task(number, word=word)
    verdict = writing.judge(made, written(made, hand))
    assert (verdict.right, verdict.error, verdict.answered) == (True, "", made.symbol)


def test_words_are_english():
    # reference: num2words (PyPI)
    assert [num2words(n) for n in range(11)] == list(writing.WORDS)


@pytest.mark.parametrize("number", TURNABLE)
def test_a_mirrored_numeral_is_told_as_one_and_without_alarm(number):
    made = task(number)
    verdict = writing.judge(made, turned(written(made)))
    if number == 1:
        assert verdict.right  # a plain stroke is its own mirror image
        return
    assert (verdict.right, verdict.error) == (False, writing.MIRRORED)
    assert KINDS[made.kind].hint(made, verdict) == (phrases.mirror(number),)


@pytest.mark.parametrize(("asked", "wrote"), [(6, 8), (1, 7), (2, 3), (5, 6), (9, 4), (0, 6)])
def test_another_numeral_is_named(asked, wrote):
    made = task(asked)
    verdict = writing.judge(made, KINDS[made.kind].respond(made, wrote))
    assert (verdict.right, verdict.error, verdict.answered) == (False, f"other numeral {wrote}", str(wrote))
    assert writing.hint(made, verdict)[0] == phrases.looks_like(wrote)


@pytest.mark.parametrize(
    ("number", "change", "error", "said"),
    [
        (1, lambda s: (s[0][::-1],), "started at the bottom", phrases.TIP_TOP),
        (4, lambda s: s[::-1], "order", phrases.TIP_ORDER),
        (
            7,
            lambda s: tuple(tuple((x, y + 200, at) for x, y, at in part) for part in s),
            "off the line",
            phrases.TIP_LINE,
        ),
        (
            3,
            lambda s: tuple(tuple((400 + x / 2, 269 + y / 2, at) for x, y, at in part) for part in s),
            "too small",
            phrases.TIP_TALLER,
        ),
    ],
)
def test_a_readable_numeral_lights_its_lamp_and_the_tip_comes_after(number, change, error, said):
    made = task(number)
    session, lines, _ = session_of(made)
    given_ = written(made)
    outcome = session.answer(replace(given_, strokes=change(given_.strokes)), 4.0)
    assert (outcome.stage, outcome.lit) == ("done", 1)
    assert lines[0].error == error
    assert writing.tip(outcome.verdict) == (said,)


def test_what_is_not_sure_counts_neither_way_and_help_comes_after_a_while():
    made = task(5)
    session, lines, inks = session_of(made)
    nothing = WriteResponse((), "right", (100, 500))
    for _ in range(UNSURE_MOST):
        outcome = session.answer(nothing, 3.0)
        assert outcome.stage == "again" and outcome.say == (phrases.HINT_WRITE_AGAIN,)
        assert not session.mastery.steps.get(made.step.key)
    assert session.answer(nothing, 3.0).stage == "hint"
    assert [line.right for line in lines] == [None] * UNSURE_MOST + [False]
    assert len({line.attempt_id for line in lines}) == len(lines) == len(inks)


def test_the_ladder_ends_with_a_way_that_the_child_traces():
    made = task(7)
    session, lines, _ = session_of(made)
    mirror = turned(written(made))
    assert [session.answer(mirror, 2.0).stage for _ in range(2)] == ["hint", "together"]
    assert session.answer(written(made, strays=40, guided=True), 9.0).stage == "done"
    assert [line.help for line in lines] == ["none", "hint", "together"]
    assert [line.error for line in lines] == ["mirrored", "mirrored", ""]


@pytest.mark.parametrize(("number", "strays", "right"), [(7, 0, True), (7, 2, True), (7, 3, False), (4, 3, True)])
def test_tracing_is_right_when_the_ink_seldom_left_the_way(number, strays, right):
    made = task(number, "trace")
    verdict = writing.judge(made, written(made, strays=strays))
    assert verdict.right is right
    assert verdict.error == ("" if right else writing.LEFT_THE_WAY)


def test_a_centres_own_form_is_the_one_that_is_judged_by(tmp_path):
    own = tmp_path / "forms.toml"
    own.write_text('[[form]]\nsymbol = "4"\nname = "closed in one"\ntaught = ["right", "left"]\n', encoding="utf-8")
    made = task(4, "trace")
    forms = load_forms(paths.data("levels") / "forms", own)
    assert writing.judge(made, written(made, strays=2, forms=forms)).right  # one stroke: two leavings are allowed
    assert not writing.judge(made, written(made, strays=3, forms=forms)).right


def test_every_cue_of_a_stroke_is_in_the_script_with_the_words_of_the_forms():
    script = tomllib.loads((paths.data("sounds") / "en" / "script.toml").read_text(encoding="utf-8"))["clips"]
    cues = FORMS.cues()
    assert set(cues) == set(phrases.STROKE_CUES)
    assert {cue: script[cue] for cue in cues} == cues


# ---------------------------------------------------------------------- following the way
def trace_of(symbol: str, height: float = 390.0) -> tuple[Trace, list]:
    lines = [
        tuple((400 + x * height, 140 + y * height) for x, y in stroke.line) for stroke in FORMS.taught(symbol).strokes
    ]
    return Trace(lines, Reach.of(height)), lines


@given(
    st.sampled_from([*"0123456789", "10", *writing.WORDS]),
    st.integers(0, 10_000),
    st.sampled_from([6, 25, 80]),
    st.sampled_from([290.0, 390.0]),
)
def test_a_shaky_hand_that_stays_near_comes_to_the_end(symbol, seed, points, height):
    trace, lines = trace_of(symbol, height)
    rng = Random(seed)
    done = "off"
    for line in lines:
        turn, shake = rng.uniform(0, math.tau), 0.05 * height
        even = spaced(line, max(points, 40 if len(lines) > 2 else points))
        near = [
            (x + shake * math.sin(turn + n / 3), y + shake * math.cos(turn + n / 4)) for n, (x, y) in enumerate(even)
        ]
        if points == 6:
            near = list(spaced(line, 40))
        done = trace.press(near[0])
        for point in near[1:]:
            if done not in ("stroke", "all"):
                done = trace.move(point)
        assert done in ("stroke", "all"), (symbol, trace.waits_at)
        trace.lift()
    assert done == "all" and trace.done and trace.strays == 0


@pytest.mark.parametrize("symbol", ["1", "2", "3", "4", "5", "6", "7", "9"])
def test_the_way_cannot_be_followed_backwards(symbol):
    trace, lines = trace_of(symbol)
    back = lines[0][::-1]
    assert trace.press(back[0]) == "off"
    for point in back[1:]:
        assert trace.move(point) not in ("all", "stroke")
    assert not trace.done


def test_the_way_waits_where_the_ink_left_it_and_goes_on_from_there():
    trace, lines = trace_of("7")
    line = spaced(lines[0], 100)
    trace.press(line[0])
    for point in line[1:40]:
        assert trace.move(point) == "on"
    left = trace.waits_at
    assert trace.move((line[40][0] + 150, line[40][1] + 150)) == "off" and trace.strays == 1
    assert math.dist(trace.waits_at, left) < 60
    waits = trace.waits_at
    trace.lift()
    assert trace.press((waits[0] + 200, waits[1])) == "off"
    assert trace.press(waits) == "on"
    assert "all" in [trace.move(point) for point in trace.ahead]
    assert trace.strays == 1


def test_no_loop_is_skipped_where_strokes_cross():
    for symbol in ("6", "8", "9"):
        trace, lines = trace_of(symbol)
        line = lines[0]
        trace.press(line[0])
        assert trace.move(line[-1]) not in ("stroke", "all"), f"straight to the end of {symbol}"
        assert length(trace.ahead) > 390.0, f"most of {symbol} is still to be followed"


# ---------------------------------------------------------------------- the ink
INK = Ink("lamp1-ab-01-1", "7", "left", (((10, 20, 5000), (11.26, 20, 5016)), ((1, 2, 5500),)), (100, 490))


def test_ink_is_read_back_as_it_was_written(tmp_path):
    keeper = InkLog(tmp_path, tmp_path / "rescue")
    keeper.append(INK)
    keeper.append(replace(INK, attempt_id="lamp1-ab-02-1"))
    held = list(ink.read(tmp_path / ink.FILE_NAME))
    assert [one.attempt_id for one in held] == ["lamp1-ab-01-1", "lamp1-ab-02-1"]
    assert held[0] == replace(INK, strokes=(((10, 20, 0), (11.3, 20, 16)), ((1, 2, 500),)))
    line = json.loads((tmp_path / ink.FILE_NAME).read_text(encoding="utf-8").splitlines()[0])
    assert list(line) == ["attempt_id", "asked", "hand", "ruling", "strokes"]
    assert InkBook(tmp_path / ink.FILE_NAME).drawing("lamp1-ab-01-1").count("<polyline") == 2


def test_a_torn_line_of_ink_harms_no_other(tmp_path):
    path = tmp_path / ink.FILE_NAME
    path.write_text(ink.to_line(INK) + ink.to_line(INK)[:40], encoding="utf-8")
    InkLog(tmp_path, tmp_path / "rescue").append(replace(INK, attempt_id="later"))
    assert [one.attempt_id for one in ink.read(path)] == ["lamp1-ab-01-1", "later"]


@pytest.mark.skipif(os.name == "nt", reason="folders are closed by rights that Windows does not have")
def test_ink_that_cannot_be_written_is_rescued_and_brought_back_once(tmp_path):
    home, rescue = tmp_path / "home", tmp_path / "rescue.ink.jsonl"
    home.write_text("a file where the folder should be", encoding="utf-8")
    keeper = InkLog(home, rescue)
    keeper.append(INK)
    assert keeper.trouble is not None and str(rescue) in keeper.trouble
    keeper.append(replace(INK, attempt_id="second"))
    home.unlink()
    later = InkLog(home, rescue)
    later.flush()
    later.append(replace(INK, attempt_id="third"))
    assert [one.attempt_id for one in ink.read(home / ink.FILE_NAME)] == ["lamp1-ab-01-1", "second", "third"]
    assert not rescue.exists() and later.trouble is None


def test_a_rehearsal_writes_and_keeps_its_ink(tmp_path, shipped):
    from datetime import datetime

    writes = tuple(skill for skill in shipped.skills if skill.id.startswith("write_"))
    open_steps = Levels(tuple(Skill(s.id, s.title, tuple(replace(x, needs=()) for x in s.steps)) for s in writes))
    rehearsal.rehearse(open_steps, tmp_path, 1, 2, 3, datetime(2026, 9, 7, 9, 0))
    attempts = log.read(tmp_path / log.FILE_NAME).attempts
    held = {one.attempt_id: one for one in ink.read(tmp_path / ink.FILE_NAME)}
    assert set(held) == {a.attempt_id for a in attempts} and len(attempts) >= 20
    for attempt in attempts:
        if attempt.right and attempt.step in ("copy", "memory"):
            assert held[attempt.attempt_id].asked == attempt.asked
    assert any(a.right is False and a.error for a in attempts)


def test_a_child_who_plays_by_switch_is_not_asked_to_write(shipped):
    kept = shipped.without_pen()
    assert {step.task for step in shipped.steps} - {step.task for step in kept.steps} == {"write_numeral", "write_word"}
    assert not {need for step in kept.steps for need in step.needs} - {step.key for step in kept.steps}


def test_every_shipped_writing_step_asks_for_zero_to_ten_in_the_end(shipped):
    for skill in ("write_numeral", "write_word"):
        steps = [step for step in shipped.steps if step.skill == skill]
        for way in writing.WAYS:
            assert {n for step in steps if step.way == way for n in step.numbers} == set(range(11)), (skill, way)
    assert Path(paths.data("levels") / "write_numeral.toml").is_file()
