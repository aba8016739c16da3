"""The command line of Ten Lamps: `tenlamps`, or `python -m game`."""

from __future__ import annotations

import argparse
import importlib
import sys
from collections.abc import Sequence

from game import __version__
from game.core.errors import Trouble

COMMANDS = ("play", "rehearse", "explain", "report", "merge", "pack", "sheets", "forget", "show", "judge", "check")


def parser(commands: Sequence[str] = COMMANDS) -> argparse.ArgumentParser:
    """The words of the command line; only the modules of `commands` are loaded."""
    from game.commands import common, play

    made = common.Parser(
        prog="tenlamps",
        description="A practice game for children who learn to count, see, write and compare numbers to ten.",
    )
    made.add_argument("--version", action="version", version=f"Ten Lamps {__version__}")
    play.options(made)
    subparsers = made.add_subparsers(metavar="COMMAND", title="commands")
    for name in commands:
        importlib.import_module(f"game.commands.{name}").add(subparsers)
    return made


def needed(words: Sequence[str]) -> Sequence[str]:
    """The commands whose modules these words need: the one that is named, none to play, else all (help, a slip)."""
    named = [word for word in words if word in COMMANDS]
    if named:
        return named[:1]
    to_play = not words or (words[0].startswith("-") and not {"-h", "--help"}.intersection(words))
    return () if to_play else COMMANDS


def main(words: Sequence[str] | None = None) -> int:
    """Run one command; the exit code: 0 done, 1 faults found, 2 could not be done (one sentence on stderr)."""
    words = sys.argv[1:] if words is None else words
    args = parser(needed(words)).parse_args(words)
    try:
        return int(args.run(args))
    except Trouble as trouble:
        print(f"tenlamps: {trouble}", file=sys.stderr)
        return 2
    except BrokenPipeError:
        sys.stderr.close()
        return 0
    except KeyboardInterrupt:
        print("tenlamps: stopped; what was written before is whole.", file=sys.stderr)
        return 130


if __name__ == "__main__":
    sys.exit(main())
