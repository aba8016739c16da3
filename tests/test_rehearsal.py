"""Simulated children play the real sessions and leave a real log."""

from __future__ import annotations

import pytest

from game import rehearsal
from game.__main__ import main
from game.core import log, replay, roster
from game.core.mastery import evidence_of, rebuild


def test_a_rehearsal_leaves_a_log_that_rebuilds_twice_the_same(tmp_path, capsys):
    for name in ("a", "b"):
        assert main(["rehearse", "--children", "6", "--lanes", "4", "--seed", "7", "--home", str(tmp_path / name)]) == 0
    first, second = ((tmp_path / n / "attempts.csv").read_bytes() for n in "ab")
    assert first == second
    assert "Ada" in capsys.readouterr().out


def test_the_log_of_a_rehearsal_holds_ten_finished_tasks_a_lane(tmp_path, shipped):
    from datetime import datetime

    rehearsal.rehearse(shipped, tmp_path, 3, 5, 2, datetime(2026, 9, 7, 9, 0))
    held = log.read(tmp_path / "attempts.csv")
    assert held.troubles == ()
    assert sum(a.right is True for a in held.attempts) == 3 * 5 * 10
    assert len(roster.load(tmp_path).children) == 3
    fast = rebuild(replay.evidence(tmp_path / "attempts.csv"), shipped.skills)
    whole = rebuild([e for e in map(evidence_of, held.attempts) if e], shipped.skills)
    for child in whole:
        assert {k: s.known for k, s in fast[child].steps.items()} == {k: s.known for k, s in whole[child].steps.items()}


def test_children_learn_in_a_rehearsal(tmp_path, shipped):
    from datetime import datetime

    rehearsal.rehearse(shipped, tmp_path, 8, 30, 5, datetime(2026, 9, 7, 9, 0))
    tries = [a for a in log.read(tmp_path / "attempts.csv").attempts if a.first_try]
    by_child = rebuild([e for e in map(evidence_of, tries) if e], shipped.skills)
    day = tries[-1].at.toordinal()
    reached = [sum(s.mastered(day) for s in m.steps.values()) for m in by_child.values()]
    assert max(reached) >= len(shipped.steps) // 2


def test_a_rehearsal_never_mixes_with_real_attempts(tmp_path, capsys):
    (tmp_path / "attempts.csv").write_text("x")
    assert main(["rehearse", "--home", str(tmp_path)]) == 2
    assert "name a new folder" in capsys.readouterr().err
    assert (tmp_path / "attempts.csv").read_text() == "x"


@pytest.mark.slow
def test_a_class_that_goes_on_reaches_every_step_of_the_map(tmp_path, shipped):
    assert main(["rehearse", "--children", "12", "--lanes", "40", "--home", str(tmp_path / "class")]) == 0
    met = {seen.key for seen in replay.evidence(tmp_path / "class" / "attempts.csv")}
    assert [step.key for step in shipped.steps if step.key not in met] == []
