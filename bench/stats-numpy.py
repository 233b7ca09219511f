"""Individuals limits and six rules on columns of numbers, vectorised with NumPy (and pandas where
it is installed). Reads one command a line, answers each with a line: the number of hits."""

import sys

import numpy as np

try:
    import pandas as pd
except ImportError:
    pd = None

D2 = 2 / np.sqrt(np.pi)


def window(flags, of, need):
    total = np.concatenate(([0], np.cumsum(flags)))
    counts = total[1:].copy()
    counts[of:] -= total[1:-of]
    return counts >= need


def chart(x):
    center = x.mean()
    sigma = np.abs(np.diff(x)).mean() / D2
    z = (x - center) / sigma
    step = np.sign(np.diff(x))
    rising = np.concatenate(([False], step > 0))
    falling = np.concatenate(([False], step < 0))
    hits = (
        (np.abs(z) > 3).astype(np.uint8)
        | ((window(z > 0, 8, 8) | window(z < 0, 8, 8)).astype(np.uint8) << 1)
        | ((window(rising, 5, 5) | window(falling, 5, 5)).astype(np.uint8) << 2)
        | ((window(z > 2, 3, 2) | window(z < -2, 3, 2)).astype(np.uint8) << 3)
        | (window(np.abs(z) <= 1, 15, 15).astype(np.uint8) << 4)
        | ((window(z > 1, 5, 4) | window(z < -1, 5, 4)).astype(np.uint8) << 5)
    )
    return hits


def chart_pandas(s):
    center = s.mean()
    sigma = s.diff().abs().mean() / D2
    z = (s - center) / sigma
    step = s.diff()

    def count(flags, of, need):
        return flags.astype(float).rolling(of, min_periods=1).sum() >= need

    return (
        (z.abs() > 3).astype(int)
        + 2 * (count(z > 0, 8, 8) | count(z < 0, 8, 8))
        + 4 * (count(step > 0, 5, 5) | count(step < 0, 5, 5))
        + 8 * (count(z > 2, 3, 2) | count(z < -2, 3, 2))
        + 16 * count(z.abs() <= 1, 15, 15)
        + 32 * (count(z > 1, 5, 4) | count(z < -1, 5, 4))
    )


columns = {}
for line in sys.stdin:
    command, name, *rest = line.split()
    if command == "load":
        columns[name] = np.fromfile(rest[0])
        print(len(columns[name]), flush=True)
    elif command == "has-pandas":
        print(int(pd is not None), flush=True)
    elif command == "numpy":
        print(int(np.count_nonzero(chart(columns[name]))), flush=True)
    elif command == "pandas":
        print(int((chart_pandas(pd.Series(columns[name])) > 0).sum()), flush=True)
    elif command == "pandas-each":
        length = int(rest[0])
        values = columns[name]
        frame = pd.DataFrame({"series": np.arange(len(values)) // length, "value": values})
        hits = frame.groupby("series")["value"].transform(lambda s: chart_pandas(s) > 0)
        print(int(hits.sum()), flush=True)
    elif command == "numpy-each":
        length = int(rest[0])
        parts = columns[name].reshape(-1, length)
        print(sum(int(np.count_nonzero(chart(part))) for part in parts), flush=True)
