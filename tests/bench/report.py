"""Collects figures, prints each as it comes, and says which missed their target."""

from __future__ import annotations

from dataclasses import asdict, dataclass

MISSED = 3
"""The exit code when a figure missed its target; 1 would also be that of a crash."""


@dataclass(frozen=True, slots=True)
class Figure:
    """`target` with `at_most` True is an upper bound, else a lower one; None: told, not judged."""

    bench: str
    name: str
    value: float
    unit: str
    target: float | None
    at_most: bool
    method: str

    @property
    def met(self) -> bool:
        if self.target is None:
            return True
        return self.value <= self.target if self.at_most else self.value >= self.target


class Report:
    def __init__(self, machine: str) -> None:
        self.machine = machine
        self.figures: list[Figure] = []
        self._bench = ""
        print(machine)

    def section(self, name: str) -> None:
        self._bench = name
        print(f"\n{name}")

    def add(
        self,
        name: str,
        value: float,
        unit: str = "",
        target: float | None = None,
        *,
        at_most: bool = True,
        method: str = "",
    ) -> None:
        """One figure; `method` says in a few words how it was measured and against which floor."""
        figure = Figure(self._bench, name, float(value), unit, target, at_most, method)
        self.figures.append(figure)
        goal = "" if target is None else f"  ({'at most' if at_most else 'at least'} {target:g})"
        sign = "ok  " if figure.met else "MISS"
        print(f"  {sign} {name:<58} {value:>10.4g} {unit:<4}{goal}  {method}", flush=True)

    def as_json(self) -> dict[str, object]:
        return {"machine": self.machine, "figures": [{**asdict(f), "met": f.met} for f in self.figures]}

    def summary(self) -> int:
        missed = [f for f in self.figures if not f.met]
        judged = [f for f in self.figures if f.target is not None]
        print(f"\n{len(judged) - len(missed)} of {len(judged)} figures meet their target")
        for figure in missed:
            print(f"  missed: {figure.bench}, {figure.name}: {figure.value:.4g} against {figure.target:g}")
        return MISSED if missed else 0
