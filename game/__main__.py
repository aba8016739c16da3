"""The command line of Ten Lamps: `tenlamps`, or `python -m game`."""

from __future__ import annotations

import argparse
import importlib
import sys
from collections.abc import Sequence

from game import __version__
from game.core.errors import Trouble

COMMANDS = ("play", "rehearse", "explain", "report", "merge", "pack", "sheets", "forget", "show", "judge", "check")


def parser() -> argparse.ArgumentParser:
    from game.commands import play

    made = argparse.ArgumentParser(
        prog="tenlamps",
        description="A practice game for children who learn to count, see, write and compare numbers to ten.",
    )
    made.add_argument("--version", action="version", version=f"Ten Lamps {__version__}")
    play.options(made)
    subparsers = made.add_subparsers(metavar="COMMAND", title="commands")
    for name in COMMANDS:
        importlib.import_module(f"game.commands.{name}").add(subparsers)
    return made


def main(words: Sequence[str] | None = None) -> int:
    """Run one command; the exit code: 0 done, 1 faults found, 2 could not be done (one sentence on stderr)."""
    args = parser().parse_args(words)
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
