"""Level files: every shipped one loads; a broken one gives its sentence and is left out, the rest plays."""

from __future__ import annotations

from pathlib import Path

import pytest

from game import paths
from game.core import phrases
from game.core.levels import load_files, load_levels
from game.core.records import THINGS
from game.core.standards import STANDARDS
from game.core.tasks import KINDS

GOOD = """
skill = "porch"
title = "On the porch"
[[step]]
id = "first"
title = "Count up to 3"
task = "count_set"
numbers = [1, 2, 3]
arrangement = ["line"]
answer = "1 of 3"
standard = "K.CC.B.5"
"""


def levels_from(tmp_path: Path, *texts: str):
    folder = tmp_path / "levels"
    folder.mkdir(exist_ok=True)
    for n, text in enumerate(texts):
        (folder / f"own{n}.toml").write_text(text, encoding="utf-8")
    return load_levels([folder])


def test_every_shipped_level_loads_without_a_fault(shipped):
    assert shipped.faults == ()
    assert {s.id for s in shipped.skills} >= {"count_set", "pick_numeral", "make_ten", "one_fewer"}
    for skill in shipped.skills:
        assert 3 <= len(skill.steps) <= 5, f"{skill.id} has {len(skill.steps)} steps"


def test_every_shipped_step_names_a_standard_and_its_pictures_exist(shipped):
    assert all(step.standard in STANDARDS for step in shipped.steps)
    missing = [t for t in THINGS if not (paths.data("art") / "things" / f"{t}.svg").is_file()]
    assert missing == []


def test_every_task_of_every_step_asks_with_clips_that_exist(shipped):
    from random import Random

    known = phrases.all_clips()
    for step in shipped.steps:
        kind = KINDS[step.task]
        last = None
        for n in range(30):
            task = last = kind.make(step, step.form, "new", Random(n), last)
            verdict = kind.judge(task, kind.respond(task, (task.answer + 1) % 11))
            said = (*task.prompt, *kind.hint(task, verdict), *kind.confirm(task), *kind.praise)
            assert set(said) <= known, f"{step.key}: {set(said) - known}"


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        (("numbers = [1, 2, 3]", "numbers = [1, 12]"), 'step "first": numbers go to 12; use 0 to 10 (did you mean 2?)'),
        (("[1, 2, 3]", "[]"), '"numbers" is []; use a list of 0 to 10'),
        (("[1, 2, 3]", "[1, true]"), "holds True; use whole numbers 0 to 10"),
        (("[1, 2, 3]", "[1, 2, 2]"), "names one twice"),
        (("count_set", "count_sets"), '"task" is "count_sets"; use'),
        (("count_set", "count_sets"), '(did you mean "count_set"?)'),
        (
            ('["line"]', '["lines"]'),
            '"arrangement" is "lines"; use line, array, circle, scattered, dice (did you mean "line"?)',
        ),
        (('["line"]', '"line"'), "use a list of texts"),
        (('arrangement = ["line"]\n', ""), '"arrangement" is missing'),
        (('"1 of 3"', '"1 of 5"'), '"answer" is "1 of 5"; use 1 of 3, 1 of 4, own answer'),
        (("K.CC.B.5", "K.CC.B.9"), '"standard" is "K.CC.B.9"; use'),
        (('title = "Count up to 3"', 'titel = "Count up to 3"'), '"titel" is not a known entry; use'),
        (('title = "Count up to 3"', 'titel = "Count up to 3"'), '"title" is missing; give it a text'),
        (('id = "first"', 'id = "first step"'), "use letters, digits and _ only"),
        (
            ('id = "first"', 'id = "first"\nneeds = ["count_set.nowhere"]'),
            'it needs "count_set.nowhere", which no level has',
        ),
        (('id = "first"', 'id = "first"\nneeds = ["porch.first"]'), "its needs run in a circle"),
        (("[[step]]", "[[steps]]"), "there is no [[step]]"),
        (('id = "first"', 'id = "first'), "this is not TOML"),
        (('answer = "1 of 3"', 'answer = "1 of 3"\nnear = "yes"'), "use true or false"),
        (('answer = "1 of 3"', 'answer = "1 of 3"\nway = "heard"'), '"way" is "heard"'),
    ],
)
def test_each_fault_has_its_sentence(tmp_path, change, sentence):
    assert change[0] in GOOD
    found = levels_from(tmp_path, GOOD.replace(*change))
    assert any(sentence in str(f) for f in found.faults), [str(f) for f in found.faults]
    assert all(str(f).startswith("levels/own0.toml") for f in found.faults)
    assert found.skills == ()


def test_all_faults_of_all_files_are_told_together_and_the_rest_plays(tmp_path):
    bad = GOOD.replace('"porch"', '"garden"').replace("[1, 2, 3]", "[11]").replace("K.CC.B.5", "x")
    worse = "skill = 3"
    found = levels_from(tmp_path, bad, worse, GOOD)
    assert [s.id for s in found.skills] == ["porch"]
    files = {f.file for f in found.faults}
    assert files == {"levels/own0.toml", "levels/own1.toml"}
    assert len(found.faults) >= 5


def test_a_file_that_needs_a_faulty_one_is_left_out_too(tmp_path):
    leaning = GOOD.replace('"porch"', '"roof"').replace('id = "first"', 'id = "first"\nneeds = ["garden.first"]')
    broken = GOOD.replace('"porch"', '"garden"').replace("[1, 2, 3]", "[11]")
    found = levels_from(tmp_path, leaning, broken, GOOD)
    assert [s.id for s in found.skills] == ["porch"]


def test_the_same_skill_in_two_files_is_told(tmp_path):
    found = levels_from(tmp_path, GOOD, GOOD)
    assert len(found.skills) == 1
    assert 'the skill "porch" is also in levels/own0.toml' in str(found.faults[0])


@pytest.mark.parametrize("data", [b"\xff\xfe\x00", b"\x00" * 100, b""])
def test_a_file_that_is_no_text_is_told(tmp_path, data):
    path = tmp_path / "odd.toml"
    path.write_bytes(data)
    assert load_files([path]).faults


def test_a_missing_or_huge_file_is_told(tmp_path):
    assert "cannot be read" in str(load_files([tmp_path / "no.toml"]).faults[0])
    big = tmp_path / "big.toml"
    big.write_bytes(b"#" * 1_100_000)
    assert "over 1000 kB" in str(load_files([big]).faults[0])
