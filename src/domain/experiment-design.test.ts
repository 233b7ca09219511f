import { describe, expect, it } from 'vitest'
import { experiment, factors, runsOf } from '../../tests/support/experiment-records.ts'
import { lenth } from '../stats/lenth.ts'
import { createRandom } from '../stats/special/random.ts'
import {
  clarityOf,
  designsFor,
  experimentDesign,
  LEAST_FACTORS,
  MOST_FACTORS,
  mixedGroups,
  runLevels,
} from './experiment-design.ts'
import { designOptions } from './experiment-design-text.ts'
import { experimentFinding } from './experiment-finding.ts'
import { visibleEffect, yardstick } from './experiment-size.ts'

/**
 * Resolution of each fraction by factors and runs: Box, Hunter & Hunter (1978), Statistics for
 * Experimenters, table 12.15.
 */
const RESOLUTION: Readonly<Record<string, number>> = {
  '3 in 4': 3,
  '4 in 8': 4,
  '5 in 16': 5,
  '5 in 8': 3,
  '6 in 32': 6,
  '6 in 16': 4,
  '6 in 8': 3,
  '7 in 64': 7,
  '7 in 32': 4,
  '7 in 16': 4,
  '7 in 8': 3,
}

describe('the designs offered', () => {
  const all = Array.from({ length: MOST_FACTORS - LEAST_FACTORS + 1 }, (_, i) => i + 2).flatMap(
    (k) => designsFor(k).map((generators) => [k, generators] as const),
  )

  it.each(all)('%i changes by "%s" have the published resolution', (k, generators) => {
    const design = experimentDesign(k, generators)
    if (generators === '') {
      expect(design.runs).toHaveLength(2 ** k)
      expect(design.resolution).toBeNull()
    } else expect(design.resolution).toBe(RESOLUTION[`${k} in ${design.runs.length}`])
  })

  it('are all of the published table', () => {
    expect(all.filter(([, generators]) => generators !== '')).toHaveLength(
      Object.keys(RESOLUTION).length,
    )
  })

  it('refuses another one by name', () => {
    expect(() => experimentDesign(4, 'D=AB')).toThrow(
      expect.objectContaining({ code: 'experiment.unknown_design' }),
    )
    expect(() => experimentDesign(8, '')).toThrow('for 8 changes')
  })

  it('says how far each can tell effects apart', () => {
    expect([null, 7, 5, 4, 3].map(clarityOf)).toEqual([
      'full',
      'pairs',
      'pairs',
      'changes',
      'mixed',
    ])
  })

  it('names the three groups of pairs of the half of four (Montgomery 2013, example 8.1)', () => {
    expect(mixedGroups(experimentDesign(4, 'D=ABC'))).toEqual([
      ['AB', 'CD'],
      ['AC', 'BD'],
      ['AD', 'BC'],
    ])
  })
})

describe('the order of the runs', () => {
  const design = experimentDesign(3, '')

  it('holds every combination as often as it is repeated, each repeat as a block', () => {
    const levels = runLevels(design, 2, 0, 7)
    expect(new Set(levels.slice(0, 8)).size).toBe(8)
    expect(new Set(levels.slice(8)).size).toBe(8)
    expect(levels).toEqual(runLevels(design, 2, 0, 7))
    expect(levels).not.toEqual(runLevels(design, 2, 0, 8))
  })

  it.each([
    [1, [4]],
    [2, [0, 9]],
    [3, [0, 5, 10]],
  ])('spreads %i middle runs evenly', (center, places) => {
    const levels = runLevels(design, 1, center, 7)
    expect(levels).toHaveLength(8 + center)
    expect(levels.flatMap((l, i) => (l === '000' ? [i] : []))).toEqual(places)
  })
})

describe('the smallest effect that would stand out', () => {
  it('needs repeats, or many effects, to be judged by', () => {
    expect(yardstick(3, 4)).toBe('replicates')
    expect(yardstick(15, 4)).toBe('lenth')
    expect(yardstick(15, 0)).toBe('lenth')
  })

  it.each([
    [2, 2],
    [3, 1],
    [3, 2],
    [4, 1],
  ])('stands out in 80 of 100 seeded stories of %i changes, %i times each', (k, repeats) => {
    const cells = 2 ** k
    const size = visibleEffect(cells - 1, cells * repeats, cells * (repeats - 1))
    const random = createRandom(11)
    const stories = 1500
    let seen = 0
    for (let i = 0; i < stories; i++) {
      const responses = Array.from({ length: cells }, (_, run) =>
        Array.from({ length: repeats }, () => random.normal() + (run % 2 === 1 ? size : 0)),
      )
      const finding = experimentFinding(
        experiment(),
        factors('A', 'B', 'C', 'D').slice(0, k),
        runsOf(k, '', responses),
      )
      if (finding.kind === 'effects' && finding.effects[0]!.standing === 'clear') seen++
    }
    expect(seen / stories).toBeGreaterThan(0.76)
    expect(seen / stories).toBeLessThan(0.84)
  })
})

describe('without repeats', () => {
  it.each([3, 7, 15, 31, 63])('the tabled size of one of %i effects passes 80 %% of draws', (m) => {
    // One real effect among chance effects of standard error 1: 4 runs to an effect of that error.
    const shift = visibleEffect(m, 4, 0)
    const random = createRandom(5)
    const draws = 4000
    let seen = 0
    for (let i = 0; i < draws; i++) {
      const real = shift + random.normal()
      const others = Array.from({ length: m - 1 }, () => random.normal())
      if (Math.abs(real) > lenth([real, ...others]).simultaneousMargin) seen++
    }
    // Three standard errors of 4,000 draws are 1.9 points.
    expect(Math.abs(seen / draws - 0.8)).toBeLessThan(0.02)
  })
})

describe('the comparison of designs', () => {
  const names = factors('Card', 'Tray', 'Timer', 'Second pair')
  const plan = { ...experiment(), guessedSd: 2 }

  it('sets runs, what is told apart and what is mixed side by side, in words', () => {
    const [full, half] = designOptions(plan, names)
    expect(full).toMatchObject({ runs: 16, clarity: 'full', headline: 'All 16 combinations' })
    expect(full!.mixes).toEqual([])
    expect(half).toMatchObject({
      runs: 8,
      clarity: 'changes',
      headline: '8 of the 16 combinations',
    })
    expect(half!.tells).toContain('Pairs are mixed with each other')
    expect(half!.mixes[0]).toBe('Card with Tray = Timer with Second pair')
  })

  it('counts repeats and middle runs, and says how small an effect they show', () => {
    const [full] = designOptions({ ...plan, replicates: 2, centerPoints: 3 }, names)
    expect(full!.runs).toBe(35)
    expect(full!.visible).toBeLessThan(designOptions(plan, names)[0]!.visible!)
    expect(full!.visibleText).toMatch(
      /^If one change alone has an effect, it stands out four times in five from about [\d.]+ minutes on\.$/,
    )
    expect(designOptions({ ...plan, guessedSd: null }, names)[0]!.visibleText).toBeNull()
  })

  it('offers none for one change or eight', () => {
    expect(designOptions(plan, names.slice(0, 1))).toEqual([])
    expect(designOptions(plan, [...names, ...names])).toEqual([])
  })

  it('names single changes that are mixed with pairs', () => {
    const eight = designOptions(plan, factors('A', 'B', 'C', 'D', 'E')).at(-1)!
    expect(eight.clarity).toBe('mixed')
    expect(eight.mixes[0]).toMatch(/^A = B with D/)
  })
})
