"""The commands of `tenlamps`, one module each: `add` registers its words, `run` does it and gives the exit code."""
