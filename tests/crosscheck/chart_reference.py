"""Reference values for charts, rules and error rates, from NumPy and SciPy."""

import functools
import math

import numpy as np
from scipy import integrate, signal, special, stats


@functools.lru_cache
def legendre(n):
    return np.polynomial.legendre.leggauss(n)


def vector(f):
    return lambda inputs: [float(v) for v in f(*[np.array(c, dtype=float) for c in zip(*inputs)])]


def each(f):
    return lambda inputs: [f(*one) for one in inputs]


@functools.lru_cache(maxsize=None)
def mean_range(n):
    tails = lambda x: 1 - special.ndtr(x) ** n - special.ndtr(-x) ** n
    return 2 * integrate.quad(tails, 0, 12, epsabs=1e-13, epsrel=1e-12, limit=200)[0]


@functools.lru_cache(maxsize=None)
@functools.lru_cache
def range_constants(n):
    # The distribution of the range W: P(W <= w) = n ∫ φ(x) (Φ(x + w) − Φ(x))^(n−1) dx.
    x, dx = np.linspace(-9, 9, 451, retstep=True)
    w, dw = np.linspace(0, 18, 1201, retstep=True)
    inner = special.ndtr(x[:, None] + w[None, :]) - special.ndtr(x)[:, None]
    below = n * dx * (stats.norm.pdf(x)[:, None] * inner ** (n - 1)).sum(axis=0)
    above = 1 - below
    first = integrate.simpson(above, dx=dw)
    second = integrate.simpson(2 * w * above, dx=dw)
    return [first, math.sqrt(second - first**2)]


def runs_up_to(above, below, runs):
    def mass(r):
        k = r // 2
        a, b = above - 1, below - 1
        if r % 2 == 0:
            ways = 2 * math.comb(a, k - 1) * math.comb(b, k - 1)
        else:
            ways = math.comb(a, k) * math.comb(b, k - 1) + math.comb(a, k - 1) * math.comb(b, k)
        return ways

    return sum(mass(r) for r in range(2, int(runs) + 1)) / math.comb(above + below, above)


@functools.lru_cache(maxsize=None)
def false_run_signal(n, longest, crossings):
    # Chance by length of the last run and crossings so far; longer runs and few crossings signal.
    state = np.zeros((longest + 1, n))
    state[1, 0] = 1
    for _ in range(n - 1):
        after = np.zeros_like(state)
        after[2:, :] += state[1:-1, :] / 2
        after[1, 1:] += state[:, :-1].sum(axis=0) / 2
        state = after
    return 1 - state[:, crossings:].sum()


def individuals(values):
    x = np.array(values)
    return [x.mean(), np.abs(np.diff(x)).mean() / (2 / math.sqrt(math.pi))]


def ewma(values, weight):
    x = np.array(values)
    z = signal.lfilter([weight], [1, weight - 1], x)
    return [z[-1], 3 * math.sqrt(weight / (2 - weight) * (1 - (1 - weight) ** (2 * len(x))))]


def side_run(k, n, shift):
    # A run of k on either side, each point above the centre with chance Φ(shift).
    up = special.ndtr(shift)
    above, below = np.zeros(k), np.zeros(k)
    above[1], below[1] = up, 1 - up
    for _ in range(n - 1):
        a, b = np.zeros(k), np.zeros(k)
        a[2:], b[2:] = above[1:-1] * up, below[1:-1] * (1 - up)
        a[1], b[1] = below.sum() * up, above.sum() * (1 - up)
        above, below = a, b
    return 1 - above.sum() - below.sum()


def ewma_length(weight, width, shift):
    limit = width * math.sqrt(weight / (2 - weight))
    nodes, weights = legendre(90)
    x, w = limit * nodes, limit * weights
    scale = w / (weight * math.sqrt(2 * math.pi))
    kernel = lambda start: scale * np.exp(-(((x - (1 - weight) * start) / weight - shift) ** 2) / 2)
    system = np.eye(len(x)) - kernel(x[:, None])
    return 1 + kernel(0.0) @ np.linalg.solve(system, np.ones(len(x)))


def cusum_length(k, h, shift):
    nodes, weights = legendre(64)
    x, w = h * (nodes + 1) / 2, h * weights / 2
    s = np.concatenate(([0.0], x))
    system = np.empty((len(s), len(s)))

    def one_sided(mean):
        system[:, 0] = -special.ndtr(k - s - mean)
        z = x[None, :] + k - s[:, None] - mean
        system[:, 1:] = -w * np.exp(-z * z / 2) / math.sqrt(2 * math.pi)
        system[np.diag_indices(len(s))] += 1
        return np.linalg.solve(system, np.ones(len(s)))[0]

    return 1 / (1 / one_sided(shift) + 1 / one_sided(-shift))


def dispersion(z):
    steps = np.diff(np.array(z))
    pairs = len(steps)
    total, variance = (steps**2).sum() / 2, 3 * pairs - 1
    scale = 2 * pairs / variance
    chi = stats.chi2(2 * pairs**2 / variance)
    return [np.abs(steps).mean() / 1.128, chi.sf(total * scale), chi.cdf(total * scale)]


CHART_CASES = {
    # SciPy 1.10 answers 0 where p is 1, and all n are certain.
    "smallBinomialQuantile": vector(
        lambda level, n, p: np.where(p == 1, n, stats.binom.ppf(level, n, p))
    ),
    "smallPoissonQuantile": vector(lambda level, mean: stats.poisson.ppf(level, mean)),
    "geometricLimits": vector(lambda mean: stats.geom.ppf(0.99865, 1 / (mean + 1)) - 1),
    "meanDeviationFactor": vector(
        lambda n: np.sqrt(2 / (n - 1)) * np.exp(special.gammaln(n / 2) - special.gammaln((n - 1) / 2))
    ),
    "meanRangeFactor": each(mean_range),
    "rangeConstants": each(range_constants),
    "runsDistribution": each(runs_up_to),
    "falseRunSignal": each(false_run_signal),
    "individualsCenter": each(individuals),
    "weightedAverage": each(ewma),
    "sideRule": each(side_run),
    "ewmaRunLength": each(ewma_length),
    "cusumRunLength": each(cusum_length),
    "dispersionOf": each(dispersion),
}
