"""Paper for the table: from the child's own next steps, in real millimetres, without answers, the same for a seed."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from random import Random

import html5lib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game import paths
from game.__main__ import main
from game.core import replay, roster
from game.core.errors import Trouble
from game.core.mastery import rebuild
from game.core.records import Child, Step
from game.core.tasks import KINDS
from game.core.writing.forms import load_forms
from game.teacher import exercises, paper, sheets
from tests import teacher_sample as sample
from tests.teacher_sample import ART, REPORT_DAY, a_class, list_of, printed

pytestmark = pytest.mark.slow

FORMS = load_forms(paths.data("levels") / "forms")
ADA, LEO = Child("ada", "Ada", "owl", "right"), Child("leo", "Leo", "fox", "left")


@pytest.fixture(scope="module")
def home(tmp_path_factory, shipped) -> Path:
    return a_class(tmp_path_factory.mktemp("class"), shipped, children=5, lanes=8)


def built(home: Path, levels, seed: int = 7, names: tuple[str, ...] = ()) -> str:
    return sheets.build(home, names, REPORT_DAY, levels, ART, FORMS, seed)


def tree(html: str):
    return html5lib.parse(html, namespaceHTMLElements=False)


def all_of(element, name: str) -> list:
    return [e for e in element.iter() if isinstance(e.tag, str) and e.tag.rpartition("}")[2] == name]


def classed(element, name: str) -> list:
    return [e for e in element.iter() if name in (e.get("class") or "").split()]


def drawn(exercise: exercises.Exercise):
    return tree(f'<svg viewBox="0 0 180 {exercise.height}">{exercise.drawn}</svg>')


def maker(child: Child = ADA, seed: int = 1) -> exercises.Maker:
    return exercises.Maker(child, FORMS, Random(seed))


def a_step(task: str, numbers: tuple[int, ...], way: str = "", arrangements: tuple[str, ...] = ()) -> Step:
    return Step("skill", "step", "Step", task, "constructed", numbers, way, "K.CC.B.5", arrangements)


# The page.


def test_the_same_number_makes_the_same_sheets_and_another_makes_others(home, shipped):
    assert built(home, shipped, 7) == built(home, shipped, 7)
    assert built(home, shipped, 7).replace("sheet 7", "") != built(home, shipped, 8).replace("sheet 8", "")


def test_the_page_is_valid_and_fetches_nothing(home, shipped):
    html = built(home, shipped)
    parser = html5lib.HTMLParser(strict=False)
    parser.parse(html)
    assert parser.errors == []
    assert "<script" not in html and "://" not in html.replace("http://www.w3.org", "")
    ids = re.findall(r'\bid="([^"]+)"', html)
    assert len(ids) == len(set(ids))
    assert set(re.findall(r'href="#([^"]+)"', html) + re.findall(r"url\(#([^)]+)\)", html)) <= set(ids)


def test_every_child_has_its_own_sheet_and_the_answers_stand_on_a_page_apart(home, shipped):
    page = tree(built(home, shipped))
    papers = classed(page, "paper")
    children = [c.id for c in roster.load(home).children]
    assert list(dict.fromkeys(p.get("data-child") for p in papers)) == children
    (answers,) = classed(page, "answers")
    assert len(all_of(answers, "li")) == sum(len(classed(p, "exercise")) for p in papers)


def test_sheets_follow_the_childs_own_next_steps(home, shipped):
    known = rebuild(replay.evidence(home / "attempts.csv"), shipped.skills)
    for child in roster.load(home).children:
        steps = sheets.next_steps(shipped, known[child.id], REPORT_DAY.toordinal())
        assert 1 <= len(steps) <= sheets.MOST_STEPS
        says = {e.says for sheet in sheets.sheets_of(child, steps, FORMS, 7) for e in sheet.exercises}
        first = exercises.makers_for(steps[0])[0](
            steps[0], exercises.Maker(child, FORMS, Random(f"7:{child.id}:{steps[0].key}"))
        )
        assert first.says in says


def test_every_page_holds_what_fits_a4_and_letter(home, shipped):
    for child in (ADA, LEO):
        for number in range(30):
            steps = tuple(Random(number).sample(shipped.steps, sheets.MOST_STEPS))
            made = sheets.sheets_of(child, steps, FORMS, number)
            assert 1 <= len(made) <= sheets.PAGES
            for sheet in made:
                assert 0 < sheets._height(sheet.exercises) <= sheets.ROOM


def test_a_child_that_never_played_has_a_sheet(tmp_path, shipped):
    list_of(tmp_path, ["Ada"])
    assert len(classed(tree(built(tmp_path, shipped)), "exercise")) >= 3


@pytest.mark.parametrize("name", sample.ODD_NICKNAMES)
def test_any_nickname_stands_on_its_sheet(tmp_path, shipped, name):
    (child,) = list_of(tmp_path, [name])
    page = tree(built(tmp_path, shipped))
    assert {"".join(b.itertext()) for b in all_of(page, "bdi")} == {child.nickname}


def test_an_unknown_child_and_an_empty_list_give_a_sentence(home, shipped, tmp_path):
    with pytest.raises(Trouble, match="no child"):
        built(home, shipped, names=("Nobody",))
    with pytest.raises(Trouble, match="No child is in"):
        built(tmp_path, shipped)


# Exercises.


def test_paper_knows_every_kind():
    assert set(KINDS) <= set(exercises.EXERCISES)


NUMBERS = st.lists(st.integers(0, 10), min_size=1, max_size=11, unique=True).map(tuple)


@given(NUMBERS, st.integers(0, 999), st.sampled_from(["line", "array", "circle", "scattered"]))
@settings(deadline=None)
def test_a_set_has_as_many_things_as_its_answer_says_and_none_touch(numbers, seed, arrangement):
    made = exercises.sets_to_count(a_step("count_set", numbers, arrangements=(arrangement,)), maker(seed=seed))
    uses = all_of(drawn(made), "use")
    assert sum(map(int, made.answer.split(" and "))) == len(uses)
    spots = [(float(u.get("x")), float(u.get("y"))) for u in uses]
    for n, (x, y) in enumerate(spots):
        assert x >= 0 and x + paper.THING <= exercises.WIDTH and y >= 0 and y + paper.THING <= made.height
        assert all(
            max(abs(x - a), abs(y - b)) >= paper.THING * 0.95 or (x - a) ** 2 + (y - b) ** 2 >= 64 for a, b in spots[:n]
        )


@given(NUMBERS, st.integers(0, 999), st.sampled_from(["one_more", "one_fewer"]))
def test_one_more_and_one_fewer_are_answered_by_the_next_number(numbers, seed, task):
    made = exercises.frame_and_one(a_step(task, numbers), maker(seed=seed))
    tokens = len(classed(drawn(made), "token"))
    answers = list(map(int, made.answer.split(" and ")))
    assert sum(answers) == tokens + (len(answers) if task == "one_more" else -len(answers))
    assert all(0 <= a <= 10 for a in answers)


def test_a_frame_fills_the_row_above_first():
    tokens = classed(tree(f"<svg>{paper.ten_frame(0, 0, 7)}</svg>"), "token")
    rows = [round(float(t.get("cy")) // paper.CELL) for t in tokens]
    assert rows == [0] * 5 + [1] * 2


@given(st.integers(0, 999))
def test_the_pairs_that_make_ten_are_all_there_and_all_different(seed):
    made = exercises.pairs_of_ten(a_step("make_ten", tuple(range(11))), maker(seed=seed))
    pairs = [tuple(map(int, pair.split(" and "))) for pair in made.answer.split(", ")]
    assert all(a + b == 10 and 1 <= a <= 9 for a, b in pairs)  # K.OA.A.4 (seen): for 1 to 9 find what makes 10
    assert len(set(pairs)) == 4
    assert len(classed(drawn(made), "token")) == sum(a for a, _ in pairs)


@given(st.integers(0, 999), st.integers(2, 10))
def test_a_number_has_one_way_more_to_be_split_than_itself(seed, number):
    made = exercises.rings_to_split(a_step("take_apart", (number,)), maker(seed=seed))
    assert len(classed(drawn(made), "ring")) == 2 * number
    assert made.answer.count(" and ") == number + 1  # ways to take n apart, in order, with 0 (computed)


@given(st.integers(0, 999), st.sampled_from(["more", "fewer"]))
@settings(deadline=None)
def test_the_side_with_more_is_the_side_with_more(seed, way):
    made = exercises.which_side(a_step("which_more", (1, 2, 3, 4, 5, 6, 7), way), maker(seed=seed))
    middle = exercises.HALF
    xs = [float(u.get("x")) for u in all_of(drawn(made), "use")]
    left, right = sum(x < middle for x in xs), sum(x >= middle for x in xs)
    side = "left" if (left > right) == (way == "more") else "right"
    assert made.answer == f"{side} ({left} and {right})"


@given(st.integers(0, 999))
def test_the_track_has_three_gaps_and_its_answers_are_they(seed):
    made = exercises.track_with_gaps(a_step("number_track", tuple(range(11))), maker(seed=seed))
    gaps = [int(n) for n in made.answer.split(", ")]
    assert len(gaps) == 3 and gaps == sorted(set(gaps))
    shown = {round((float(e.get("points").split(",")[0])) // 16.3) for e in classed(drawn(made), "plain")}
    assert shown | set(gaps) == set(range(11)) and not shown & set(gaps)


@pytest.mark.parametrize("task", sorted(exercises.EXERCISES))
@pytest.mark.parametrize("seed", range(4))
def test_an_exercise_gives_no_answer_away(task, seed, shipped):
    steps = [s for s in shipped.steps if s.task == task] or [a_step(task, (1, 2, 3))]
    for step in steps:
        for make in exercises.makers_for(step):
            made = make(step, maker(seed=seed))
            assert all_of(drawn(made), "text") == [] or "written" in made.answer, "only starts of strokes are numbered"
            if make in (exercises.numerals_to_write, exercises.words_to_write, exercises.rings_to_split):
                continue
            if make is not exercises.hands_to_colour:
                assert not re.search(r"\d", made.says)


# Writing.


@pytest.mark.parametrize("child", [ADA, LEO])
@pytest.mark.parametrize("symbol", [*"0123456789", "10", *exercises.NUMBER_WORDS])
def test_a_row_to_write_has_model_dots_starts_and_room_for_that_hand(child, symbol):
    form = FORMS.taught(symbol, child.hand)
    row = tree(f"<svg>{paper.writing_row(form, child.hand, 180)}</svg>")
    strokes = len(form.strokes)
    models = len(classed(row, "solid")) / strokes
    assert models == (2 if child.hand == "left" else 1)
    assert len(classed(row, "dotted")) >= strokes
    assert len(classed(row, "start")) > len(classed(row, "dotted")), "some places have the start dots alone"
    xs = [float(v.split(",")[0]) for e in all_of(row, "polyline") for v in e.get("points").split()]
    assert min(xs) >= 0 and max(xs) <= 180


@pytest.mark.parametrize("child", [ADA, LEO])
def test_start_dots_stand_where_the_strokes_begin(child):
    form = FORMS.taught("4", child.hand)
    drawn_form = tree(f"<svg>{paper.written(form, 0, 0, 'dotted')}</svg>")
    starts = [(float(c.get("cx")), float(c.get("cy"))) for c in classed(drawn_form, "start")]
    left = min(x for s in form.strokes for x, _ in s.line)
    expected = [((s.line[0][0] - left) * paper.RULING, s.line[0][1] * paper.RULING) for s in form.strokes]
    assert starts == [pytest.approx(point, abs=0.01) for point in expected]
    assert ["".join(t.itertext()) for t in classed(drawn_form, "turn")] == ["1", "2"]


def test_a_centres_own_form_stands_on_the_sheet(tmp_path, home, shipped):
    own = tmp_path / "forms.toml"
    own.write_text('[[form]]\nsymbol = "1"\nname = "flag"\ntaught = ["right", "left"]\n', encoding="utf-8")
    flagged = load_forms(paths.data("levels") / "forms", own)
    plain_row = exercises.writing_row("1", maker())
    own_row = exercises.writing_row("1", replace(maker(), forms=flagged))
    assert plain_row.drawn != own_row.drawn


# On paper.


@pytest.mark.skipif(sample.CHROMIUM is None, reason=sample.NO_CHROMIUM)
@pytest.mark.parametrize("size", ["A4", "letter"])
def test_printed_the_ruling_and_the_frame_have_their_millimetres(home, shipped, tmp_path, size):
    pdfplumber = pytest.importorskip("pdfplumber")
    html = built(home, shipped).replace("@page { margin", f"@page {{ size: {size}; margin", 1)
    (tmp_path / "sheets.html").write_text(html, encoding="utf-8")
    with pdfplumber.open(printed(tmp_path / "sheets.html", tmp_path / "sheets.pdf")) as pdf:
        papers = len(classed(tree(html), "paper"))
        assert len(pdf.pages) == papers + 1, "one page for each sheet, one for the answers"
        mm = 25.4 / 72
        wide = [line for line in pdf.pages[0].lines if (line["x1"] - line["x0"]) * mm > 150]
        heights = sorted({round(line["top"] * mm, 1) for line in wide})
        assert any(abs(b - a - 15) < 0.2 for a in heights for b in heights), heights
        assert all(abs((line["x1"] - line["x0"]) * mm - 180) < 0.6 for line in wide if line["top"] * mm > 40)
        boxes = [r for r in pdf.pages[0].rects if abs(r["width"] * mm - 55) < 0.8 and abs(r["height"] * mm - 22) < 0.8]
        assert boxes, "a ten frame of 11 mm cells is 55 by 22 mm"


def test_the_command_writes_the_file_and_tells_the_number(home, tmp_path, capsys):
    to = tmp_path / "sheets.html"
    assert main(["sheets", "--to", str(to), "--seed", "12", "--home", str(home)]) == 0
    assert "Sheet number 12" in capsys.readouterr().out
    first = to.read_text(encoding="utf-8")
    assert main(["sheets", "--to", str(to), "--home", str(home)]) == 0
    number = re.search(r"Sheet number (\d+)", capsys.readouterr().out)
    assert number and f"sheet {number[1]}" in to.read_text(encoding="utf-8")
    assert first != to.read_text(encoding="utf-8")
