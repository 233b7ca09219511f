import { expect, it } from 'vitest'
import { studyOf } from '../src/domain/finding.ts'
import { findingText } from '../src/domain/finding-text.ts'
import type { Measure, Observation } from '../src/domain/record.ts'
import { meanAndSd } from '../src/stats/mean-and-sd.ts'
import { nileFlow } from './reference/nile.ts'
import { driversKilledOrSeriouslyInjured as drivers } from './reference/seatbelts.ts'
import { HANDWASHING_FROM, VIENNA_MONTHS } from './reference/vienna-maternity.ts'
import { cycle, measure, observation, prediction } from './support/records.ts'

// What the study of a test says of published series whose conclusion is known.

function find(
  own: Partial<Measure>,
  observations: readonly Observation[],
  ranFrom: string,
  said: { expected: number; low: number; high: number },
) {
  const test = cycle({ lockedAt: `${ranFrom}T08:00:00.000Z`, ranFrom, ranTo: null })
  const data = { measure: measure(own), observations, phases: [], annotations: [] }
  return studyOf({ cycle: test, predictions: [prediction(said)] }, [data], []).findings[0]!
}

it('Semmelweis: fewer mothers died once hands were washed', () => {
  // Semmelweis 1861, first clinic: 2,060 deaths in 19,571 births before June 1847, 142 in 6,595 after.
  const rows = VIENNA_MONTHS.map(({ at, births, deaths }) =>
    observation({ at, numerator: deaths, denominator: births }),
  )
  const f = find(
    { name: 'Deaths', role: 'outcome', unitLabel: 'births', better: 'down' },
    rows,
    HANDWASHING_FROM,
    { expected: 0.03, low: 0.01, high: 0.05 },
  )
  expect(f.outcome).toMatchObject({ numerator: 142, denominator: 6595 })
  expect(f.comparator!.summary).toMatchObject({ numerator: 2060, denominator: 19571, n: 76 })
  expect(f.change!.estimate).toBeCloseTo(142 / 6595 - 2060 / 19571, 12)
  expect(f).toMatchObject({ verdict: 'inside', better: true })
  // The months spread far more than chance: Newcombe's own interval, −0.0892 to −0.0781, is too narrow.
  expect(f.change!.widened).toBeGreaterThan(2)
  expect(f.change!.interval!.lower).toBeLessThan(-0.0892)
  expect(f.change!.interval!.upper).toBeGreaterThan(-0.0781)
  expect(f.change!.interval!.upper).toBeLessThan(0)
  const { sentences } = findingText(f)
  expect(sentences[0]).toMatch(/^142 of 6,595 births \(2\.2 %\)/)
  expect(sentences[1]).toMatch(/^Before the test it was 11 % \(76 observations/)
  expect(sentences[2]).toMatch(/^This is an improvement/)
})

it('Semmelweis: his first year of handwashing is enough, though the months are alike', () => {
  // Semmelweis 1861: the deaths of the first clinic fell at once and stayed low for the rest of 1847–48.
  // The months run in long swells, residual correlation about 0.65, so the interval is wide.
  const rows = VIENNA_MONTHS.slice(0, 88).map(({ at, births, deaths }) =>
    observation({ at, numerator: deaths, denominator: births }),
  )
  const f = find({ better: 'down' }, rows, HANDWASHING_FROM, {
    expected: 0.03,
    low: 0.01,
    high: 0.05,
  })
  expect(f.outcome.n).toBe(12)
  expect(f.change).toMatchObject({ claim: 'down', method: 'newcombe', ifAlone: false })
  expect(f.change!.alike).toBeGreaterThan(0.6)
  expect(f.change!.widened).toBeGreaterThan(4)
  expect(f.change!.interval!.upper).toBeLessThan(-0.03)
  expect(findingText(f).sentences.at(-1)).toMatch(/^This is an improvement/)
  expect(findingText(f).limits).toContainEqual(
    expect.stringMatching(/^Neighbouring points are alike/),
  )
})

it('Nile: the flow dropped from 1899 on', () => {
  // Cobb 1978, Biometrika 65:243: about 1,098 up to 1898 and 850 after, a drop of 248.
  const rows = nileFlow.map((value, i) =>
    observation({ id: `y${i}`, at: `${1871 + i}-01-01`, value }),
  )
  const f = find({ name: 'Flow', dataKind: 'single', better: null }, rows, '1899-01-01', {
    expected: 850,
    low: 800,
    high: 900,
  })
  expect(f.comparator!.summary.value).toBeCloseTo(1097.75, 2)
  expect(f.outcome.value).toBeCloseTo(849.97, 2)
  expect(f.change).toMatchObject({ kind: 'ratio', claim: 'down', doubt: null })
  expect(f.change!.interval!.lower).toBeLessThan(850 / 1098)
  expect(f.change!.interval!.upper).toBeGreaterThan(850 / 1098)
  expect(findingText(f).headline).toBe('Flow: came out as predicted; lower than before.')
})

const belts = (from: number) =>
  drivers.slice(from).map((value, i) => {
    const at = new Date(Date.UTC(1969, from + i, 1)).toISOString().slice(0, 10)
    return observation({ id: at, at, value })
  })
const casualties = { name: 'Drivers hurt', dataKind: 'counts', better: 'down' } as const
const third = { expected: 1200, low: 1100, high: 1400 }

it('Seat belts: fewer drivers were hurt after the law, against the four years before it', () => {
  // R, datasets::Seatbelts; Harvey & Durbin 1986: a fall of 18 % (from memory). By segmented regression
  // on logs with months (R and statsmodels): −0.236, that is 21 % lower at once.
  const f = find(casualties, belts(120), '1983-02-01', third)
  expect(f.change).toMatchObject({ claim: 'down', seasonRemoved: true, method: 'seasonal' })
  expect(f.change!.estimate).toBeGreaterThan(0.79)
  expect(f.change!.estimate).toBeLessThan(0.85)
  expect(f.change!.interval!.lower).toBeLessThan(0.82)
  expect(f.change!.interval!.upper).toBeGreaterThan(0.82)
  expect(findingText(f).sentences[1]).toMatch(/with the season taken out, was 18 % lower/)
})

it('Seat belts: against all fourteen years before, which were falling already, it claims nothing', () => {
  const f = find(casualties, belts(0), '1983-02-01', third)
  expect(f.change).toMatchObject({ claim: null, doubt: 'drift', interval: null })
  expect(findingText(f).sentences.at(-1)).toMatch(
    /^The measure was already moving before the test\./,
  )
})

/** One point before and one in the test, of so many. */
const twoCounts = (after: readonly [number, number], before: readonly [number, number]) =>
  find(
    { name: 'Right', better: 'up', unitLabel: 'items' },
    [
      observation({ id: 'b', at: '2026-02-23', numerator: before[0], denominator: before[1] }),
      observation({ id: 'a', at: '2026-03-02', numerator: after[0], denominator: after[1] }),
    ],
    '2026-03-02',
    { expected: 0.7, low: 0.5, high: 0.9 },
  )

it.each([
  // Newcombe 1998, Stat Med 17:873, table II, method 10, as printed.
  [56, 70, 48, 80, 0.0524, 0.3339, '20 points higher (95 % interval: 5.2 to 33 points higher'],
  [9, 10, 3, 10, 0.1705, 0.809, '60 points higher (95 % interval: 17 to 81 points higher'],
  [5, 56, 0, 29, -0.0381, 0.1926, '8.9 points higher (95 % interval: 3.8 points lower to 19'],
] as const)(
  'two proportions: %i of %i after %i of %i has the printed interval in its sentence',
  (a, m, b, n, lower, upper, words) => {
    const f = twoCounts([a, m], [b, n])
    expect(f.change!.interval!.lower).toBeCloseTo(lower, 4)
    expect(f.change!.interval!.upper).toBeCloseTo(upper, 4)
    expect(findingText(f).sentences[1]).toContain(words)
    // The interval may exclude no difference; one point on each side is no series to claim one from.
    expect(f.change).toMatchObject({ claim: null, doubt: 'few-points' })
  },
)

it('two means: a new way to assemble a device took less time, if each device stands by itself', () => {
  // NIST/SEMATECH e-Handbook 7.3.1; the eleven and nine times are from memory, and give the printed
  // means 36.0909 and 32.2222, deviations 4.9082 and 2.5386, and t = 2.269, beyond 1.746 at 16 degrees
  // of freedom: the new way is faster at 5 %, one-sided.
  const old = [32, 37, 35, 28, 41, 44, 35, 31, 34, 38, 42]
  const fresh = [36, 31, 30, 31, 34, 36, 29, 32, 31]
  const summary = [old, fresh].map(meanAndSd)
  expect(summary.map(({ mean }) => mean)).toEqual([
    expect.closeTo(36.0909, 4),
    expect.closeTo(32.2222, 4),
  ])
  expect(summary.map(({ sd }) => sd)).toEqual([
    expect.closeTo(4.9082, 4),
    expect.closeTo(2.5386, 4),
  ])
  const day = (i: number) => new Date(Date.UTC(2026, 1, 1 + i)).toISOString().slice(0, 10)
  const rows = [...old, ...fresh].map((value, i) => observation({ id: `d${i}`, at: day(i), value }))
  const f = find(
    { name: 'Assembly', dataKind: 'single', better: 'down', unitLabel: 'minutes' },
    rows,
    day(old.length),
    { expected: 32, low: 28, high: 36 },
  )
  const { estimate, interval, widened, method, claim } = f.change!
  expect(method).toBe('welch-log')
  expect(estimate).toBeGreaterThan(0.88)
  expect(estimate).toBeLessThan(0.91)
  // Taken as separate devices, as the handbook does, no change lies outside even the two-sided interval.
  const alone = Math.log(interval!.upper / estimate!) / widened
  expect(Math.log(estimate!) + alone).toBeLessThan(0)
  // Taken as days one after the other, twenty points cannot rule out that neighbours are alike.
  expect(widened).toBeGreaterThan(1)
  expect(claim).toBeNull()
  expect(findingText(f).sentences[1]).toMatch(/^Before the test it was 36\.1 .* 10 % lower/)
})
