"""The ids of the spoken clips. Their texts stand in sounds/<language>/script.toml, one sentence a clip.

Every prompt, number word, hint and praise is asked for by one of these functions or names, so that
`all_clips` can tell a translator, a teacher with a microphone and the tests what must be there.
"""

from __future__ import annotations

from game.core.records import THINGS

NUMBERS = range(11)
NO_MIRROR = (0, 8)
"""Numerals that are their own mirror image."""


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


def ask_watch(n: int, word: bool = False) -> str:
    """The mole is going to write the numeral, or the number word."""
    return f"ask_watch_word_{n}" if word else f"ask_watch_{n}"


def ask_copy(n: int, word: bool = False) -> str:
    return f"ask_copy_word_{n}" if word else f"ask_copy_{n}"


def ask_write(n: int, word: bool = False) -> str:
    return f"ask_write_word_{n}" if word else f"ask_write_{n}"


def wrote(n: int, word: bool = False) -> str:
    return f"wrote_word_{n}" if word else f"wrote_{n}"


def mirror(n: int) -> str:
    """A mirrored numeral; 0 and 8 have no mirror image of their own."""
    return f"mirror_{n}"


def looks_like(n: int) -> str:
    return f"looks_like_{n}"


def ask_one_more(n: int) -> str:
    return f"ask_one_more_{n}"


def one_more(n: int) -> str:
    return f"one_more_{n}"


def five_and(n: int) -> str:
    """Six to ten, told as five and some more."""
    return f"five_and_{n}"


def ask_put(n: int) -> str:
    return f"ask_put_{n}"


def more_than(more: int, fewer: int) -> str:
    return f"more_than_{more}_{fewer}"


def fewer_than(fewer: int, more: int) -> str:
    return f"fewer_than_{fewer}_{more}"


def same_as(n: int) -> str:
    return f"same_as_{n}"


def ask_start(n: int) -> str:
    return f"ask_start_{n}"


def ask_steps(n: int) -> str:
    return f"ask_steps_{n}"


def comes_after(n: int) -> str:
    return f"comes_after_{n}"


def in_all(n: int) -> str:
    return f"in_all_{n}"


def ask_another(n: int) -> str:
    return f"ask_another_{n}"


def parts(whole: int, part: int) -> str:
    """`part` and the rest make the whole."""
    return make_ten(part) if whole == 10 else f"parts_{whole}_{part}"


ASK_PICK_SET = "ask_pick_set"
ASK_HOW_MANY_MORE = "ask_how_many_more"
ASK_TAKE_ONE = "ask_take_one"
ASK_COVERED = "ask_covered"
ASK_LEFT = "ask_left"

HINT_COUNT_TOUCH = "hint_count_touch"
HINT_COUNT_AGAIN = "hint_count_again"
HINT_NOTHING_HERE = "hint_nothing_here"
HINT_TAGGED = "hint_tagged"
HINT_LEFT_OUT = "hint_left_out"
HINT_LAST_NUMBER = "hint_last_number"
HINT_LISTEN = "hint_listen"
HINT_LOOK_DOTS = "hint_look_dots"
HINT_FOLDED = "hint_folded"
HINT_TAKE_ONE = "hint_take_one"
HINT_BACK = "hint_back"
HINT_TRY = "hint_try"

HINT_WRITE_LOOK = "hint_write_look"
HINT_WRITE_AGAIN = "hint_write_again"
HINT_WORD_LOOK = "hint_word_look"
HINT_MIRROR_LETTER = "hint_mirror_letter"
HINT_TRACE_SLOWLY = "hint_trace_slowly"
ASK_TRACE = "ask_trace"
TRACE_BACK = "trace_back"
TIP_TOP = "tip_top"
TIP_START = "tip_start"
TIP_WAY = "tip_way"
TIP_ORDER = "tip_order"
TIP_CLOSE = "tip_close"
TIP_DOT = "cue_i_2"
TIP_LINE = "tip_line"
TIP_SMALLER = "tip_smaller"
TIP_TALLER = "tip_taller"

ASK_ADD_ONE = "ask_add_one"
ASK_COVERED_MORE = "ask_covered_more"
ASK_GLANCE = "ask_glance"
ASK_SEEN = "ask_seen"
ASK_WHICH_MORE = "ask_which_more"
ASK_WHICH_FEWER = "ask_which_fewer"
ASK_WHICH_GREATER = "ask_which_greater"
ASK_WHICH_LESS = "ask_which_less"
ASK_GAP = "ask_gap"
ASK_NEXT = "ask_next"
ASK_READ = "ask_read"
ASK_FIND_WORD = "ask_find_word"
ASK_HIDDEN = "ask_hidden"
HINT_ADD_ONE = "hint_add_one"
HINT_ON = "hint_on"
HINT_LOOK_ONCE_MORE = "hint_look_once_more"
HINT_FIVE_FIRST = "hint_five_first"
HINT_COUNT_OUT = "hint_count_out"
HINT_TOO_MANY = "hint_too_many"
HINT_TOO_FEW = "hint_too_few"
HINT_EMPTY_TRAY = "hint_empty_tray"
HINT_PAIR_UP = "hint_pair_up"
HINT_FROM_START = "hint_from_start"
HINT_FIRST_STEP = "hint_first_step"
HINT_FIRST_LETTER = "hint_first_letter"
HINT_EMPTY_PLACES = "hint_empty_places"
HINT_COUNT_ON = "hint_count_on"
HINT_MOVE_GAP = "hint_move_gap"
HELLO_MIXED = "hello_mixed"
ASK_MIXED = "ask_mixed"

TOGETHER_COUNT = "together_count"
TOGETHER_LOOK = "together_look"
TOGETHER_TURN = "together_turn"

PRAISE_EACH = "praise_each"
PRAISE_CAREFUL = "praise_careful"
PRAISE_KEPT = "praise_kept"
PRAISE_FIRST = "praise_first"
PRAISE_LISTENED = "praise_listened"
PRAISE_STEADY = "praise_steady"
PRAISE_READ = "praise_read"

HELLO_PICK = "hello_pick"
HELLO_GUEST = "hello_guest"
HELLO_LANE = "hello_lane"
CLOSE_ALL = "close_all"
CLOSE_HOME = "close_home"
SOUND_CHECK = "sound_check"
ASK_ANOTHER_LANE = "ask_another_lane"
ASK_LEAVE = "ask_leave"

_SINGLE = (
    ASK_ADD_ONE, ASK_COVERED_MORE, ASK_GLANCE, ASK_SEEN, ASK_WHICH_MORE, ASK_WHICH_FEWER, ASK_WHICH_GREATER,
    ASK_WHICH_LESS, ASK_GAP, ASK_NEXT, ASK_READ, ASK_FIND_WORD, ASK_HIDDEN, HINT_ADD_ONE, HINT_ON,
    HINT_LOOK_ONCE_MORE, HINT_FIVE_FIRST, HINT_COUNT_OUT, HINT_TOO_MANY, HINT_TOO_FEW, HINT_EMPTY_TRAY,
    HINT_PAIR_UP, HINT_FROM_START, HINT_FIRST_STEP, HINT_FIRST_LETTER, HINT_EMPTY_PLACES, HINT_COUNT_ON,
    HINT_MOVE_GAP, HELLO_MIXED, ASK_MIXED,
    ASK_PICK_SET, ASK_HOW_MANY_MORE, ASK_TAKE_ONE, ASK_COVERED, ASK_LEFT,
    HINT_COUNT_TOUCH, HINT_COUNT_AGAIN, HINT_NOTHING_HERE, HINT_TAGGED, HINT_LEFT_OUT, HINT_LAST_NUMBER,
    HINT_LISTEN,
    HINT_LOOK_DOTS, HINT_FOLDED, HINT_TAKE_ONE, HINT_BACK, HINT_TRY,
    TOGETHER_COUNT, TOGETHER_LOOK, TOGETHER_TURN,
    PRAISE_EACH, PRAISE_CAREFUL, PRAISE_KEPT, PRAISE_FIRST, PRAISE_LISTENED, PRAISE_STEADY,
    HELLO_PICK, HELLO_GUEST, HELLO_LANE, CLOSE_ALL, CLOSE_HOME, SOUND_CHECK,
    ASK_ANOTHER_LANE, ASK_LEAVE,
    HINT_WRITE_LOOK, HINT_WRITE_AGAIN, HINT_WORD_LOOK, HINT_MIRROR_LETTER, HINT_TRACE_SLOWLY, ASK_TRACE, TRACE_BACK,
    TIP_TOP, TIP_START, TIP_WAY, TIP_ORDER, TIP_CLOSE, TIP_LINE, TIP_SMALLER, TIP_TALLER, PRAISE_READ,
)  # fmt: skip

STROKE_CUES = (
    "cue_0_1", "cue_1_1", "cue_1_flag_1", "cue_1_flag_2", "cue_2_1", "cue_2_loop_1", "cue_3_1", "cue_3_flat_1",
    "cue_4_1", "cue_4_2", "cue_4_closed_1", "cue_4_one_1", "cue_5_1", "cue_5_2", "cue_5_one_1", "cue_6_1",
    "cue_7_1", "cue_7_bar_2", "cue_8_1", "cue_9_1", "cue_9_curved_1",
    "cue_z_1", "cue_e_1", "cue_r_1", "cue_o_1", "cue_n_1", "cue_t_1", "cue_t_2", "cue_t_2_left", "cue_t_straight_1",
    "cue_w_1", "cue_h_1", "cue_f_1", "cue_f_2", "cue_f_2_left", "cue_u_1", "cue_i_1", "cue_i_2", "cue_v_1",
    "cue_s_1", "cue_x_1", "cue_x_2", "cue_g_1",
)  # fmt: skip
"""The cue of each stroke of the forms in levels/forms; their texts stand there."""


def all_clips() -> frozenset[str]:
    """Every clip id that the app can ask for."""
    by_number = (number, ask_find, look_at, it_is, ask_make_ten, ask_more, make_ten, here_are)
    clips = {say(n) for say in by_number for n in NUMBERS}
    clips.update(say(n) for say in (ask_fewer, fewer, lamps) for n in NUMBERS if n > 0)
    clips.update(
        say(n, word) for say in (ask_watch, ask_copy, ask_write, wrote) for n in NUMBERS for word in (False, True)
    )
    clips.update(looks_like(n) for n in NUMBERS)
    clips.update(mirror(n) for n in NUMBERS if n not in NO_MIRROR)
    clips.update(STROKE_CUES)
    clips.update(say(n) for say in (ask_one_more, one_more, ask_start, comes_after) for n in NUMBERS if n < 10)
    clips.update(say(n) for say in (ask_put, same_as) for n in NUMBERS)
    clips.update(five_and(n) for n in NUMBERS if n > 5)
    clips.update(ask_steps(n) for n in (1, 2, 3))
    clips.update(say(n) for say in (in_all, ask_another) for n in NUMBERS if n > 0)
    clips.update(parts(whole, part) for whole in NUMBERS if whole > 0 for part in range(whole + 1))
    for more in NUMBERS:
        clips.update(more_than(more, less) for less in range(more))
        clips.update(fewer_than(less, more) for less in range(more))
    for thing in THINGS:
        clips.add(ask_count(thing))
        clips.update(total(n, thing) for n in NUMBERS)
    return frozenset(clips.union(_SINGLE))
