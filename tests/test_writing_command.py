"""`tenlamps judge` as a user runs it."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from random import Random

from tests import ink_data, writers

ROOT = Path(__file__).resolve().parent.parent


def tenlamps_judge(tmp_path: Path, *words: str, text: str | None = None) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "game", "judge", *words, "--home", str(tmp_path)]
    return subprocess.run(command, cwd=ROOT, input=text, capture_output=True, text=True)


def test_verdicts_come_in_order_and_a_bad_line_stops_nothing(tmp_path):
    good = ink_data.as_line(writers.sample("3", Random(1)), "3")
    lines = [
        good,
        "{not json}\n",
        '{"asked": "3"}\n',
        ink_data.as_line([[[0, 0, 0]]], "x!"),
        good.replace('"3"', "null", 1),
    ]
    path = tmp_path / "ink.jsonl"
    path.write_text("".join(lines))
    out = tenlamps_judge(tmp_path, str(path))
    found = [json.loads(line) for line in out.stdout.splitlines()]
    assert out.returncode == 1 and "3 lines could not be judged" in out.stderr
    assert [("problem" in verdict) for verdict in found] == [False, True, True, True, False]
    assert found[0]["is_asked"] is True and found[0]["strokes"][0]["direction"] == "forward"
    assert found[3]["problem"].startswith("line 4: asked 'x!' cannot be judged")
    assert found[4]["looks_like"] == "3" and found[4]["margin"] is None


def test_many_lines_are_judged_by_two_workers_in_order(tmp_path):
    rng = Random(2)
    truths = [str(k % 10) for k in range(240)]
    text = "".join(ink_data.as_line(writers.sample(t, rng, style=0), t) for t in truths)
    out = tenlamps_judge(tmp_path, "-", text=text)
    found = [json.loads(line) for line in out.stdout.splitlines()]
    assert out.returncode == 0 and [verdict["asked"] for verdict in found] == truths
    assert sum(verdict["is_asked"] for verdict in found) >= 235


def test_a_ruling_in_the_line_is_used(tmp_path):
    high = [[(x, y / 2, at) for x, y, at in stroke] for stroke in writers.sample("3", Random(1))]
    line = json.dumps({"asked": "3", "strokes": high, "ruling": {"top": 0, "base": 100}}) + "\n"
    out = tenlamps_judge(tmp_path, "-", text=line)
    assert "off the line" in json.loads(out.stdout)["slips"]


def test_a_missing_file_is_one_clear_line(tmp_path):
    out = tenlamps_judge(tmp_path, str(tmp_path / "nowhere.jsonl"))
    assert out.returncode == 2 and out.stdout == "" and out.stderr.count("\n") == 1
    assert "nowhere.jsonl" in out.stderr and "Traceback" not in out.stderr
