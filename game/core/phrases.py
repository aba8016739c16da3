"""The ids of the spoken clips. Their texts stand in sounds/<language>/script.toml, one sentence a clip.

Every prompt, number word, hint and praise is asked for by one of these functions or names, so that
`all_clips` can tell a translator, a teacher with a microphone and the tests what must be there.
"""

from __future__ import annotations

from game.core.records import THINGS

NUMBERS = range(11)


def number(n: int) -> str:
    return f"number_{n}"


def total(n: int, thing: str) -> str:
    return f"total_{n}_{thing}"


def ask_count(thing: str) -> str:
    return f"ask_count_{thing}"


def ask_find(n: int) -> str:
    return f"ask_find_{n}"


def look_at(n: int) -> str:
    return f"look_{n}"


def it_is(n: int) -> str:
    return f"it_is_{n}"


def ask_make_ten(n: int) -> str:
    return f"ask_make_ten_{n}"


def ask_more(n: int) -> str:
    return f"ask_more_{n}"


def make_ten(n: int) -> str:
    return f"make_ten_{n}"


def here_are(n: int) -> str:
    return f"frame_{n}"


def ask_fewer(n: int) -> str:
    return f"ask_fewer_{n}"


def fewer(n: int) -> str:
    return f"fewer_{n}"


def lamps(n: int) -> str:
    return f"lamps_{n}"


ASK_PICK_SET = "ask_pick_set"
ASK_HOW_MANY_MORE = "ask_how_many_more"
ASK_TAKE_ONE = "ask_take_one"
ASK_COVERED = "ask_covered"

HINT_COUNT_TOUCH = "hint_count_touch"
HINT_COUNT_AGAIN = "hint_count_again"
HINT_TAGGED = "hint_tagged"
HINT_LEFT_OUT = "hint_left_out"
HINT_LAST_NUMBER = "hint_last_number"
HINT_LISTEN = "hint_listen"
HINT_LOOK_DOTS = "hint_look_dots"
HINT_FOLDED = "hint_folded"
HINT_TAKE_ONE = "hint_take_one"
HINT_BACK = "hint_back"
HINT_TRY = "hint_try"

TOGETHER_COUNT = "together_count"
TOGETHER_LOOK = "together_look"
TOGETHER_TURN = "together_turn"

PRAISE_EACH = "praise_each"
PRAISE_CAREFUL = "praise_careful"
PRAISE_KEPT = "praise_kept"
PRAISE_FIRST = "praise_first"
PRAISE_LISTENED = "praise_listened"
PRAISE_STEADY = "praise_steady"

HELLO_PICK = "hello_pick"
HELLO_GUEST = "hello_guest"
HELLO_LANE = "hello_lane"
CLOSE_ALL = "close_all"
CLOSE_HOME = "close_home"
SOUND_CHECK = "sound_check"
ASK_ANOTHER_LANE = "ask_another_lane"
ASK_LEAVE = "ask_leave"

_SINGLE = (
    ASK_PICK_SET, ASK_HOW_MANY_MORE, ASK_TAKE_ONE, ASK_COVERED,
    HINT_COUNT_TOUCH, HINT_COUNT_AGAIN, HINT_TAGGED, HINT_LEFT_OUT, HINT_LAST_NUMBER, HINT_LISTEN,
    HINT_LOOK_DOTS, HINT_FOLDED, HINT_TAKE_ONE, HINT_BACK, HINT_TRY,
    TOGETHER_COUNT, TOGETHER_LOOK, TOGETHER_TURN,
    PRAISE_EACH, PRAISE_CAREFUL, PRAISE_KEPT, PRAISE_FIRST, PRAISE_LISTENED, PRAISE_STEADY,
    HELLO_PICK, HELLO_GUEST, HELLO_LANE, CLOSE_ALL, CLOSE_HOME, SOUND_CHECK,
    ASK_ANOTHER_LANE, ASK_LEAVE,
)  # fmt: skip


def all_clips() -> frozenset[str]:
    """Every clip id that the app can ask for."""
    by_number = (number, ask_find, look_at, it_is, ask_make_ten, ask_more, make_ten, here_are)
    clips = {say(n) for say in by_number for n in NUMBERS}
    clips.update(say(n) for say in (ask_fewer, fewer, lamps) for n in NUMBERS if n > 0)
    for thing in THINGS:
        clips.add(ask_count(thing))
        clips.update(total(n, thing) for n in NUMBERS)
    return frozenset(clips.union(_SINGLE))
