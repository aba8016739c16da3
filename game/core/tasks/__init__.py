"""The kinds of mini-task, written out: one module a kind, each with the same few functions.

A kind offers `KIND` (its id, the forms, ways and numbers it allows), `make(step, form, reason, rng, last)`,
`judge(task, response)`, `hint(task, verdict)`, `confirm(task)` and `respond(task, answer)`.
"""

from __future__ import annotations

from game.core.tasks import count_set, make_ten, one_fewer, pick_numeral
from game.core.tasks.kind import Kind

KINDS: dict[str, Kind] = {
    kind.id: kind
    for kind in (
        count_set.KIND,
        pick_numeral.KIND,
        make_ten.KIND,
        one_fewer.KIND,
    )
}
