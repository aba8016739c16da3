"""One short sentence for each slip, for a teacher's page and the command line; the app speaks its own clips."""

from game.core.writing.formation import Slip

_TIPS: dict[str, str] = {
    "nothing written": "There is no ink yet.",
    "mirrored": "It is turned round. Start on the other side.",
    "other symbol": "This is not {asked} yet.",
    "started at the bottom": "Start at the top.",
    "stroke reversed": "Go the other way.",
    "started elsewhere": "Start at the green dot.",
    "order": "The strokes come in another order.",
    "not closed": "Close it.",
    "no dot": "Put the dot above it.",
    "off the line": "Let it stand on the line.",
    "too large": "Make it a little smaller.",
    "too small": "Make it larger: from line to line.",
}


def tip_for(slip: Slip, asked: str | None = None, looks_like: str | None = None) -> str:
    """What to say to someone who wrote `asked` with this slip."""
    if slip == "other symbol" and asked is None:
        return "This is too much ink for one numeral."
    if slip == "other symbol" and looks_like is not None:
        return f"This looks like {looks_like}. We want {asked}."
    return _TIPS[slip].format(asked=asked)
