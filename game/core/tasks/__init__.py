"""The kinds of mini-task, written out: one module a kind, each with the same few functions.

A kind offers `KIND` (its id, the forms, ways and numbers it allows), `make(step, form, reason, rng, last, past)`,
`judge(task, response)`, `hint(task, verdict)`, `confirm(task)` and `respond(task, answer)`.
"""

from __future__ import annotations

from game.core.tasks import (
    count_out,
    count_set,
    make_ten,
    number_track,
    number_words,
    one_fewer,
    one_more,
    pick_numeral,
    see_at_once,
    take_apart,
    which_more,
    write_numeral,
    write_word,
)
from game.core.tasks.kind import Kind

KINDS: dict[str, Kind] = {
    kind.id: kind
    for kind in (
        count_set.KIND,
        pick_numeral.KIND,
        make_ten.KIND,
        one_fewer.KIND,
        one_more.KIND,
        see_at_once.KIND,
        count_out.KIND,
        which_more.KIND,
        number_track.KIND,
        number_words.KIND,
        take_apart.KIND,
        write_numeral.KIND,
        write_word.KIND,
    )
}
