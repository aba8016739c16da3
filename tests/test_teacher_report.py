"""The report: what it says equals what the log says, in any browser, on paper, whatever a child is called."""

from __future__ import annotations

import math
import re
from collections import defaultdict
from datetime import date, timedelta
from pathlib import Path
from random import Random

import html5lib
import pytest
from hypothesis import given
from hypothesis import strategies as st
from wcag_contrast_ratio import rgb

from game.core.errors import Trouble
from game.core.ink import Ink, to_line
from game.core.levels import Levels
from game.core.mastery import STUCK_TRIES
from game.core.records import Step
from game.core.tasks import KINDS
from game.teacher import groups, page, plot, standing, words
from game.teacher.ideas import load_ideas
from tests import teacher_sample as sample
from tests.teacher_sample import a_class, browse, list_of, printed, read_log, report_of, row, write_log

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def home(tmp_path_factory, shipped) -> Path:
    return a_class(tmp_path_factory.mktemp("class"), shipped)


@pytest.fixture(scope="module")
def html(home, shipped) -> str:
    return report_of(home, shipped)


def tree(html: str):
    return html5lib.parse(html, namespaceHTMLElements=False)


def text_of(element) -> str:
    return "".join(element.itertext()).strip()


# The number, worked out once more from the raw file.


def recomputed(rows: list[list[str]], levels: Levels, day: date) -> dict[str, dict[str, str]]:
    """Child -> step key -> status, by a small re-implementation that shares no code with the app.

    Knowledge tracing after Corbett & Anderson 1995 (memory); guess, decay and review as the design gives them. Only
    after how many tries a step rests is taken from the app: that was tuned by simulation.
    """
    order = {skill.id: [f"{skill.id}.{step.id}" for step in skill.steps] for skill in levels.skills}
    guess = {"1 of 3": 0.38, "1 of 4": 0.30, "own answer": 0.08}
    children: dict[str, dict] = defaultdict(dict)
    lanes: dict[str, list[str]] = defaultdict(list)
    seen: set[str] = set()
    for cells in sorted(rows, key=lambda r: (r[0], r[1], r[18])):
        if cells[12] != "yes" or cells[11] not in ("yes", "no") or cells[18] in seen:
            continue
        seen.add(cells[18])
        child, key, right = cells[2].removeprefix("'"), f"{cells[5]}.{cells[6]}", cells[11] == "yes"
        today = date.fromisoformat(cells[0])
        lane = "-".join(cells[18].split("-")[:-2])
        if not lanes[child] or lanes[child][-1] != lane:
            lanes[child].append(lane)
        steps = children[child]
        s = steps.setdefault(
            key,
            {"p": 0.2, "day": None, "calm": 20.0, "last": [], "near": None, "sure": None, "rest": None, "stuck": 0},
        )
        form = cells[7].split(", ")[1]
        later = s["day"] is not None and today > s["day"]
        if later:
            s["p"] *= math.exp(-(today - s["day"]).days / s["calm"])
        g = guess[form]
        p = s["p"] * 0.85 / (s["p"] * 0.85 + (1 - s["p"]) * g) if right else (
            s["p"] * 0.15 / (s["p"] * 0.15 + (1 - s["p"]) * (1 - g))
        )  # fmt: skip
        s["p"] = p + (1 - p) * 0.12
        if right and later:
            s["calm"] = min(365.0, s["calm"] * 2)
        elif not right:
            s["calm"] = max(3.0, s["calm"] * 0.6)
        s["day"] = max(filter(None, (s["day"], today)))
        s["last"] = [*s["last"], right][-6:]
        if s["p"] < 0.3:
            s["near"] = s["sure"] = None
        elif s["p"] >= 0.9:
            if s["near"] is None:
                s["near"] = today
            elif right and today > s["near"] and s["sure"] is None and (form != "own answer" or sum(s["last"]) >= 5):
                s["sure"] = today
        s["stuck"] = 0 if s["near"] else s["stuck"] + 1
        if s["stuck"] >= STUCK_TRIES:
            s["rest"], s["stuck"] = len(lanes[child]), 0
        place = order[cells[5]].index(key)
        for other in order[cells[5]][:place] if right else order[cells[5]][place + 1 :]:
            if other in steps:
                q = steps[other]["p"]
                steps[other]["p"] = q + (1 - q) * 0.25 if right else q * 0.95
    return {
        child: {key: status_of(s, len(lanes[child]) + 1, day) for key, s in steps.items()}
        for child, steps in children.items()
    }


def status_of(s: dict, lane: int, day: date) -> str:
    known = s["p"] * math.exp(-max((day - s["day"]).days, 0) / s["calm"])
    if s["near"] and known >= 0.3:
        return "secure" if s["sure"] else "nearly"
    rests = s["rest"] is not None and s["near"] is None and s["rest"] <= lane <= s["rest"] + 2
    return "resting" if rests else "practising"


def shown_grid(html: str) -> dict[str, dict[str, str]]:
    return {
        tr.get("data-child"): {g.get("data-step"): g.get("data-status") for g in tr.iter() if g.get("data-step")}
        for tr in tree(html).iter("tr")
        if tr.get("data-child")
    }


@pytest.mark.parametrize("later", [0, 9, 60])
def test_the_grid_is_what_the_raw_log_says(home, shipped, later):
    rows = read_log(home / "attempts.csv")
    day = max(date.fromisoformat(r[0]) for r in rows) + timedelta(days=later)
    expected = recomputed(rows, shipped, day)
    shown = shown_grid(report_of(home, shipped, day=day))
    assert len(shown) == 8
    for child, steps in shown.items():
        assert steps == {s.key: expected.get(child, {}).get(s.key, "not met") for s in shipped.steps}
    if later == 0:
        assert {"secure", "nearly", "practising", "not met"} <= {s for steps in shown.values() for s in steps.values()}


def test_a_log_out_of_order_and_doubled_gives_the_same_grid(home, shipped, tmp_path):
    rows = read_log(home / "attempts.csv")
    mixed = rows + rows[::7]
    Random(2).shuffle(mixed)
    write_log(tmp_path / "attempts.csv", mixed)
    (tmp_path / "children.csv").write_bytes((home / "children.csv").read_bytes())
    assert shown_grid(report_of(tmp_path, shipped)) == shown_grid(report_of(home, shipped))


@pytest.mark.parametrize(
    ("steps", "word"),
    [
        (["secure", "secure"], "secure"),
        (["secure", "nearly"], "nearly"),
        (["not met", "not met"], "not met"),
        (["secure", "not met"], "practising"),
        (["secure", "resting", "not met"], "resting"),
        (["practising", "resting"], "practising"),
    ],
)
def test_one_word_tells_a_skill(steps, word):
    assert standing.skill_status(steps) == word


def test_every_cell_has_a_shape_and_a_word(html):
    cells = [td for td in tree(html).iter("td") if td.get("data-skill")]
    assert cells
    for cell in cells:
        status = cell.get("data-status")
        assert status in text_of(cell)
        shapes = [
            use.get("href") or use.get("{http://www.w3.org/1999/xlink}href") for use in cell.iter() if use.get("href")
        ]
        assert shapes == ["#mark-" + status.replace(" ", "-")]


# The file itself.


def test_the_page_is_valid_html(html):
    parser = html5lib.HTMLParser(strict=False)
    parser.parse(html)
    assert parser.errors == []


def test_ids_are_unique_and_every_reference_has_its_target(html):
    ids = re.findall(r'\bid="([^"]+)"', html)
    assert len(ids) == len(set(ids))
    wanted = re.findall(r'href="#([^"]+)"', html) + re.findall(r"url\(#([^)]+)\)", html)
    assert set(wanted) <= set(ids)


def test_nothing_is_fetched_and_nothing_runs(html):
    assert "<script" not in html
    assert not re.search(r"(src|href)\s*=\s*[\"'](?!#)", html)
    assert "@import" not in html
    assert "://" not in html.replace("http://www.w3.org", "")


def test_the_report_says_its_cautions(html):
    said = " ".join(text_of(tree(html)).split())
    assert "not a test and not a diagnosis" in said
    assert "local rules" in said
    assert "How the number is made" in said


@pytest.mark.skipif(sample.CHROMIUM is None, reason=sample.NO_CHROMIUM)
def test_a_browser_opens_it_offline_without_a_request_or_a_complaint(html, tmp_path):
    page, net = tmp_path / "report.html", tmp_path / "net.json"
    page.write_text(html, encoding="utf-8")
    out = browse(page, "--dump-dom", f"--log-net-log={net}", "--enable-logging=stderr")
    assert "Groups for tomorrow" in out.stdout
    assert "CONSOLE" not in out.stderr
    held = net.read_text(encoding="utf-8")
    initiated = re.findall(r'"initiator":"([^"]+)"', held)
    assert [i for i in initiated if i.startswith(("file:", "null"))] == [], "a page of a file asks as null"


@pytest.mark.skipif(sample.CHROMIUM is None, reason=sample.NO_CHROMIUM)
@pytest.mark.parametrize("paper", ["A4", "letter"])
def test_it_prints_a_landscape_class_and_one_page_for_each_family(html, tmp_path, paper):
    pypdf = pytest.importorskip("pypdf")
    page = tmp_path / "report.html"
    on_paper = html.replace("@page { margin", f"@page {{ size: {paper}; margin")
    page.write_text(on_paper.replace("size: landscape", f"size: {paper} landscape"), encoding="utf-8")
    pages = pypdf.PdfReader(printed(page, tmp_path / "report.pdf")).pages
    texts = [p.extract_text() for p in pages]
    assert pages[0].mediabox.width > pages[0].mediabox.height
    assert pages[1].mediabox.width < pages[1].mediabox.height
    names = {text_of(t) for tr in tree(html).iter("tr") if tr.get("data-child") for t in tr.iter("bdi")}
    assert len(names) == 8
    assert all(name in texts[0] for name in names)
    families = [n for n, text in enumerate(texts) if "for the family" in text]
    assert len(families) == 8
    for n in families:
        assert "counts to ten" in texts[n]
        assert "This sheet comes from playing" in texts[n], "the sheet for a family fits on one page"
    assert len(pages) <= 3 + 8 * 3


def test_texts_and_marks_can_be_seen_on_white():
    """WCAG 2.2 (seen): 4.5 for text, 3 for parts that carry meaning; reckoned by PyPI wcag-contrast-ratio."""
    css = (page.TEMPLATES / "paper.css").read_text(encoding="utf-8")
    colours = {
        name: tuple(int(c[i : i + 2], 16) / 255 for i in (0, 2, 4)) for name, c in re.findall(r"--(\w+): #(\w+)", css)
    }
    white = (1.0, 1.0, 1.0)
    assert all(rgb(colours[name], white) >= 4.5 for name in ("ink", "dusk"))
    assert all(rgb(colours[name], white) >= 3.0 for name in ("moss", "teal", "wood", "plum", "stone", "brick"))


# Who is in it.


@pytest.mark.parametrize("name", sample.ODD_NICKNAMES)
def test_any_nickname_stands_in_the_report_as_it_is(tmp_path, shipped, name):
    (child,) = list_of(tmp_path, [name])
    write_log(
        tmp_path / "attempts.csv", [row(n, child=("'" if child.id[0] in "=@" else "") + child.id) for n in range(9)]
    )
    html = report_of(tmp_path, shipped)
    page = tree(html)
    shown = [text_of(b) for tr in page.iter("tr") if tr.get("data-child") == child.id for b in tr.iter("bdi")]
    assert shown == [child.nickname]
    assert list(page.iter("b")) == [] or all(text_of(b) != "x" for b in page.iter("b"))
    parser = html5lib.HTMLParser(strict=False)
    parser.parse(html)
    assert parser.errors == []
    only = report_of(tmp_path, shipped, child=child.nickname)
    assert child.nickname in text_of(tree(only))


def test_guests_have_no_row_and_strangers_have_one_with_a_kind_remark(tmp_path, shipped):
    list_of(tmp_path, ["Ada"])
    rows = [row(1, child="guest"), row(2, child="Kim~zz99")]
    write_log(tmp_path / "attempts.csv", rows)
    html = report_of(tmp_path, shipped)
    assert [c.partition("~")[0] for c in shown_grid(html)] == ["Ada", "Kim"]
    said = text_of(tree(html))
    assert "Guests played 1 lane" in said
    assert "Kim~zz99 has played and is not in the class list yet" in " ".join(said.split())


def test_a_child_who_is_away_is_in_no_group(tmp_path, shipped):
    list_of(tmp_path, ["Ada", "Bo", "Cleo", "Dov"])
    path = tmp_path / "children.csv"
    text = path.read_text(encoding="utf-8-sig").splitlines()
    path.write_text("\n".join(line[:-2] + '"yes"' if "Dov" in line else line for line in text), encoding="utf-8")
    page = tree(report_of(tmp_path, shipped))
    members = [text_of(b) for ul in page.iter("ul") if ul.get("class") == "names" for b in ul.iter("bdi")]
    assert members == ["Ada", "Bo", "Cleo"]


def test_after_25_first_tries_the_report_asks_to_look_together(tmp_path, shipped):
    list_of(tmp_path, ["Ada", "Bo"])
    ada, bo = (c.id for c in sample.roster.load(tmp_path).children)
    stuck = [row(n, child=ada, right="no", answered="2", error="one too few") for n in range(25)]
    nearly_stuck = [row(100 + n, child=bo, right="no", answered="2", error="one too few") for n in range(24)]
    write_log(tmp_path / "attempts.csv", stuck + nearly_stuck)
    page = tree(report_of(tmp_path, shipped))
    look = next(e for e in page.iter("div") if e.get("id") == "look")
    assert [text_of(b) for b in look.iter("bdi")] == ["Ada"]
    assert "most children get there" in text_of(look)


def test_an_empty_folder_gives_a_report_and_a_missing_one_a_sentence(tmp_path, shipped):
    assert "No child is in the class list yet" in report_of(tmp_path, shipped)
    with pytest.raises(Trouble, match="There is no data folder"):
        report_of(tmp_path / "nowhere", shipped)


def test_torn_lines_are_counted_and_told(tmp_path, shipped):
    list_of(tmp_path, ["Ada"])
    write_log(tmp_path / "attempts.csv", [row(1), row(2)[:7], row(3, right="perhaps")])
    assert "2 lines of the log are not whole" in " ".join(text_of(tree(report_of(tmp_path, shipped))).split())


def test_the_pages_of_one_child_tell_of_no_other(home, shipped):
    names = [c.nickname for c in sample.roster.load(home).children]
    said = text_of(tree(report_of(home, shipped, child=names[0])))
    assert names[0] in said
    assert not any(re.search(rf"\b{name}\b", said) for name in names[1:])


def test_ink_is_drawn_with_start_dots_and_arrows(tmp_path, shipped):
    (child,) = list_of(tmp_path, ["Ada"])
    rows = [row(n, child=child.id, task="write_numeral, own answer, new", asked="4") for n in (1, 2, 3)]
    write_log(tmp_path / "attempts.csv", rows)
    strokes = (
        tuple((10.0 + i, 100.0 + i, i * 9.0) for i in range(40)),
        tuple((60.0, 90.0 + i, i * 9.0) for i in range(50)),
    )
    drawn = "".join(to_line(Ink(r[18], "4", "right", strokes, (80.0, 150.0))) for r in rows)
    (tmp_path / "ink.jsonl").write_text(drawn + '{"attempt_id": "torn', encoding="utf-8")
    page = tree(report_of(tmp_path, shipped))
    pictures = [svg for svg in page.iter() if (svg.get("aria-label") or "").startswith("4, ")]
    assert [p.get("aria-label") for p in pictures[:2]] == ["4, first time", "4, latest time"]
    for picture in pictures:
        kinds = [e.get("class") for e in picture.iter() if e.get("class")]
        assert (kinds.count("ink"), kinds.count("dot"), kinds.count("way"), kinds.count("rule")) == (2, 2, 2, 2)
        numbers = [float(v) for e in picture.iter() if e.get("points") for v in re.split("[ ,]", e.get("points"))]
        assert all(0 <= number <= 100 for number in numbers)


# Groups, words, ideas.


def step(number: int) -> Step:
    return Step(f"skill{number // 2}", f"s{number}", f"Step {number}", "count_set", "choice3", (1, 2), "", "K.CC.B.5")


STEPS = [step(n) for n in range(6)]
WISH = st.lists(st.sampled_from(STEPS), max_size=3, unique=True).map(tuple)


@given(st.dictionaries(st.integers(0, 40).map(str), st.tuples(WISH, WISH, WISH.filter(bool)), max_size=32))
def test_every_child_is_in_one_group_that_fits_or_left_over(wanted):
    made, left = groups.form_groups(wanted, STEPS)
    placed = [c for g in made for c in g.children] + [entry.child for entry in left]
    assert sorted(placed) == sorted(wanted)
    sizes = [len(g.children) for g in made]
    for entry in left:
        if entry.joins is not None:
            sizes[entry.joins] += 1
            assert made[entry.joins].step.skill == entry.step.skill
    assert all(3 <= size <= 5 for size in sizes)
    for group in made:
        assert all(any(group.step in round_ for round_ in wanted[c]) for c in group.children)


def test_three_children_who_share_a_step_are_never_left_over():
    wanted = dict.fromkeys("abc", ((STEPS[2],), (), ())) | {"d": ((STEPS[4],), (), ())}
    made, left = groups.form_groups(wanted, STEPS)
    assert [(g.step, g.children) for g in made] == [(STEPS[2], ("a", "b", "c"))]
    assert [(entry.child, entry.joins) for entry in left] == [("d", None)]


def test_activities_need_spoons_or_buttons_and_nothing_else(shipped):
    ideas = load_ideas()
    bought = re.compile(
        r"\b(dice|die|cards?|paper|pencils?|pens?|cubes?|blocks?|beads?|beans?|counters?|board)\b", re.I
    )
    for a_step in shipped.steps:
        said = ideas.table(a_step)
        assert re.search(r"button|spoon|finger", said), a_step.key
        assert not bought.search(said), (a_step.key, bought.search(said))
        assert "{" not in said + ideas.home(a_step)


def test_every_kind_and_every_error_that_judging_can_give_has_words(shipped):
    ideas = load_ideas()
    assert [k for k in KINDS if not ideas.knows_kind(k)] == []
    for a_step in shipped.steps:
        kind = KINDS[a_step.task]
        for seed in range(4):
            task = kind.make(a_step, a_step.form, "new", Random(seed), None)
            for answer in range(11):
                error = kind.judge(task, kind.respond(task, answer)).error
                assert not error or ideas.knows_error(kind.id, error), (kind.id, error)


@pytest.mark.parametrize(("last", "said"), [(None, "not yet"), (100, "today"), (99, "yesterday"), (90, "10 days ago")])
def test_days_since_are_told_plainly(last, said):
    assert words.ago(last, 100) == said


@pytest.mark.parametrize(
    ("seconds", "said"),
    [(0, "no time yet"), (20, "under a minute"), (60, "1 minute"), (3600, "1 hour"), (3900, "1 hour 5 minutes")],
)
def test_time_is_told_plainly(seconds, said):
    assert words.time_spent(seconds) == said


@given(st.dictionaries(st.integers(739_000, 739_900), st.tuples(st.integers(0, 30), st.integers(0, 30)), max_size=80))
def test_the_plot_counts_every_first_try_once(days):
    tries = {day: [max(a, b), min(a, b)] for day, (a, b) in days.items()}
    found = plot.dots(tries)
    assert sum(d.tries for d in found) == sum(t for t, _ in tries.values())
    assert sum(d.right for d in found) == sum(r for t, r in tries.values() if t)
    assert len(found) <= 40
    for x, y in re.findall(r'cx="([\d.]+)" cy="([\d.]+)"', plot.drawing(found)):
        assert plot.LEFT <= float(x) <= plot.WIDTH - plot.RIGHT
        assert plot.TOP <= float(y) <= plot.HEIGHT - plot.BOTTOM


def test_the_same_folder_and_day_give_the_same_report(home, shipped, html):
    assert report_of(home, shipped) == html
