import { describe, expect, it } from 'vitest'
import { PUBLISHED_EXPERIMENTS } from '../../tests/reference/factorial-experiments.ts'
import { experiment, factor, factors, run, runsOf } from '../../tests/support/experiment-records.ts'
import { linearModel } from '../stats/linear-model.ts'
import { createRandom } from '../stats/special/random.ts'
import { type EffectsFinding, experimentFinding } from './experiment-finding.ts'

function found(...given: Parameters<typeof experimentFinding>): EffectsFinding {
  const finding = experimentFinding(...given)
  if (finding.kind !== 'effects') throw new Error(`It is ${finding.kind}.`)
  return finding
}

describe.each(PUBLISHED_EXPERIMENTS)('$name ($source)', (example) => {
  const finding = found(
    experiment({ generators: example.generators }),
    factors(...example.factors),
    runsOf(example.factors.length, example.generators, example.responses),
  )

  it('gives the printed effects', () => {
    const half = 0.5 * 10 ** -example.decimals + 1e-9
    for (const [letters, printed] of Object.entries(example.effects)) {
      const effect = finding.effects.find((e) => e.effect === letters)!
      expect(Math.abs(effect.estimate - printed), letters).toBeLessThanOrEqual(half)
    }
  })

  it('keeps what the author kept, beyond the margin of one effect, and nothing else', () => {
    const beyond = finding.effects.filter((e) => e.standing !== 'none').map((e) => e.effect)
    expect(beyond.sort()).toEqual([...example.kept].sort())
  })
})

describe('the margins', () => {
  const [filtration, plant] = PUBLISHED_EXPERIMENTS

  it('are Lenth’s without repeats: 6.748 and 13.699 for the filtration rate (Montgomery 2013, example 6.2)', () => {
    const finding = found(
      experiment(),
      factors(...filtration!.factors),
      runsOf(4, '', filtration!.responses),
    )
    expect(finding.method).toBe('lenth')
    expect(finding.alone).toBeCloseTo(6.748, 3)
    expect(finding.together).toBeCloseTo(13.699, 3)
    const clear = finding.effects.filter((e) => e.standing === 'clear').map((e) => e.effect)
    expect(clear).toEqual(['A', 'AC', 'D', 'AD'])
  })

  it('are those of the repeats where there are enough: variance 8, standard error 1.4 (Box, Hunter & Hunter 1978, section 10.6)', () => {
    const finding = found(experiment(), factors(...plant!.factors), runsOf(3, '', plant!.responses))
    expect(finding.method).toBe('replicates')
    expect(finding.df).toBe(8)
    expect(finding.standardError.toFixed(1)).toBe('1.4')
    expect(finding.standardError).toBeCloseTo(Math.sqrt(8) / 2, 12)
  })

  it('agree with least squares on all effects when a repeat is left out', () => {
    const runs = runsOf(3, '', plant!.responses)
    const finding = found(
      experiment(),
      factors(...plant!.factors),
      runs.map((r) => (r.position === 4 ? { ...r, leftOutReason: 'The pump stood still.' } : r)),
    )
    const kept = runs.filter((r) => r.position !== 4)
    const signs = kept.map((r) => [...r.levels].map((s) => (s === '+' ? 1 : -1)))
    const columns = finding.effects.map(({ effect }) =>
      signs.map((row) => [...effect].reduce((sum, l) => sum * row['ABC'.indexOf(l)]!, 1)),
    )
    const y = kept.map((r) => r.response!)
    const named = finding.effects.map(({ effect }, i) => [effect, columns[i]!] as const)
    const model = linearModel({ mean: y.map(() => 1), ...Object.fromEntries(named) }, y)
    finding.effects.forEach((effect) => {
      const coefficient = model.coefficients.find((c) => c.name === effect.effect)!
      expect(effect.estimate).toBeCloseTo(2 * coefficient.estimate, 9)
      expect(finding.standardError).toBeCloseTo(2 * coefficient.standardError, 9)
    })
    expect(finding.df).toBe(7)
    expect(finding.leftOut).toEqual([4])
  })

  it('come from centre points too, which judge the bend (Montgomery 2013, example 6.6)', () => {
    const finding = found(
      experiment({ centerPoints: 5 }),
      factors('Time', 'Temperature'),
      runsOf(2, '', [39.3, 40.9, 40, 41.5], [40.3, 40.5, 40.7, 40.2, 40.6]),
    )
    expect(finding.method).toBe('replicates')
    expect(finding.df).toBe(4)
    expect(finding.standardError).toBeCloseTo(Math.sqrt(0.043), 9)
    const { difference, margin } = finding.curvature!
    // Printed F of curvature 0.063 on 1 and 4 degrees of freedom: its root is t.
    const t = (difference / margin!) * 2.7764451052
    expect((t * t).toFixed(3)).toBe('0.063')
  })
})

describe('what to use', () => {
  const [filtration] = PUBLISHED_EXPERIMENTS

  it('is hot, little formaldehyde and fast stirring for the filtration rate, as the author concludes', () => {
    const finding = found(
      experiment({ better: 'up' }),
      factors(...filtration!.factors),
      runsOf(4, '', filtration!.responses),
    )
    expect(finding.best!.settings).toEqual([
      { letter: 'A', high: true },
      { letter: 'C', high: false },
      { letter: 'D', high: true },
    ])
    // Mean and halves of the effects A, C, D, AC and AD, with their signs there.
    expect(finding.best!.expected).toBeCloseTo(100.625, 9)
  })

  it('is not said where no way is better, or where effects are mixed', () => {
    const runs = runsOf(4, '', filtration!.responses)
    const names = factors(...filtration!.factors)
    expect(found(experiment({ better: null }), names, runs).best).toBeNull()
    const eye = PUBLISHED_EXPERIMENTS[3]!
    const mixed = found(
      experiment({ generators: eye.generators }),
      factors(...eye.factors),
      runsOf(7, eye.generators, eye.responses),
    )
    expect(mixed.best).toBeNull()
    expect(mixed.effects[0]!.mixedWith).toEqual(['BD', 'CE', 'FG'])
  })

  it('gives the means at the combinations of a pair', () => {
    const finding = found(
      experiment(),
      factors(...filtration!.factors),
      runsOf(4, '', filtration!.responses),
    )
    const ac = finding.pairs.find((p) => p.pair === 'AC')!
    // Means of four runs each, read off the printed responses.
    expect(ac).toEqual({ pair: 'AC', lowLow: 45.25, highLow: 85, lowHigh: 73.25, highHigh: 76.75 })
  })
})

describe('predictions', () => {
  const names = (expected: number | null) => [
    factor(1, 'A', { expected }),
    ...factors('A', 'B', 'C').slice(1),
  ]
  const plant = PUBLISHED_EXPERIMENTS[1]!
  const fitOf = (expected: number | null) =>
    found(experiment(), names(expected), runsOf(3, '', plant.responses)).effects[0]!.fit

  it.each([
    [22, 'fits'],
    [0, 'misses'],
    [-20, 'misses'],
    [null, null],
  ])('of %s against an effect of 23: %s', (expected, fit) => {
    expect(fitOf(expected)).toBe(fit)
  })

  it('is open where no effect fits as well, and fits where none was predicted', () => {
    const quiet = [10, 12, 11, 9, 12, 10.5, 9.2, 11.3]
    const open = found(experiment(), names(2), runsOf(3, '', quiet))
    expect(open.effects[0]!.fit).toBe('open')
    expect(open.effects[1]!.fit).toBe('fits')
  })
})

describe('before anything can be said', () => {
  const names = factors('A', 'B')

  it('waits for the last run, whatever the first ones say', () => {
    const runs = [run(1, { response: 1 }), run(2, { levels: '+-', response: 90 }), run(3), run(4)]
    expect(experimentFinding(experiment(), names, runs)).toMatchObject({
      kind: 'running',
      open: [3, 4],
      of: 4,
    })
  })

  it('says which runs are left out when a combination is lost', () => {
    const runs = runsOf(2, '', [1, 2, 3, 4]).map((r) =>
      r.position === 2 ? { ...r, leftOutReason: 'Spilt.' } : r,
    )
    expect(experimentFinding(experiment(), names, runs)).toMatchObject({
      kind: 'lost',
      leftOut: [2],
    })
  })

  it('has nothing to judge where every run is the same', () => {
    expect(experimentFinding(experiment(), names, runsOf(2, '', [5, 5, 5, 5]))).toMatchObject({
      kind: 'still',
      value: 5,
    })
  })

  it.each([
    [
      'repeats that agree to the last digit',
      [
        [0.1, 0.1],
        [0.3, 0.3],
        [0.7, 0.7],
        [0.2, 0.2],
      ],
    ],
    ['effects that are mostly zero', [1, 5, 1, 5, 1, 5, 1, 5]],
  ] as const)('puts no margin on %s', (_what, responses) => {
    const k = responses.length === 4 ? 2 : 3
    const finding = found(
      experiment(),
      factors('A', 'B', 'C').slice(0, k),
      runsOf(k, '', responses),
    )
    expect(finding.together).toBeNull()
    expect(finding.effects.every((e) => e.standing === 'unjudged')).toBe(true)
  })
})

describe('where nothing has an effect, seeded', () => {
  it.each([
    [2, '', 1],
    [2, '', 2],
    [3, '', 1],
    [4, '', 1],
    [5, 'D=AB E=AC', 1],
    [3, '', 2],
  ])(
    '%i changes by "%s", %i times each: an effect stands out in at most 5 of 100 stories',
    (k, generators, repeats) => {
      const random = createRandom(4)
      const stories = 1000
      const names = factors('A', 'B', 'C', 'D', 'E').slice(0, k)
      const cells = generators === '' ? 2 ** k : 8
      let claims = 0
      for (let i = 0; i < stories; i++) {
        const responses = Array.from({ length: cells }, () =>
          Array.from({ length: repeats }, () => random.normal()),
        )
        const { effects } = found(
          experiment({ generators }),
          names,
          runsOf(k, generators, responses),
        )
        if (effects.some((e) => e.standing === 'clear')) claims++
      }
      // Two and a half standard errors of a share of 5 % over so many stories.
      expect(claims / stories).toBeLessThan(0.05 + 2.5 * Math.sqrt((0.05 * 0.95) / stories))
    },
  )
})
