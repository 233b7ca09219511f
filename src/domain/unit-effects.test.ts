import { describe, expect, it } from 'vitest'
import { cycle, decision, measure, observation, prediction } from '../../tests/support/records.ts'
import { createRandom } from '../stats/special/random.ts'
import type { MeasureRecord, TestRecord } from './effect-shifts.ts'
import type { Measure } from './record.ts'
import { type UnitsFinding, unitsFinding } from './unit-effects.ts'
import { unitsText, unitWords } from './unit-effects-text.ts'

const project = {
  id: 'P1',
  unitId: 'U1',
  name: 'Falls',
  aim: '',
  leadId: null,
  origin: 'own' as const,
  createdAt: '2026-01-01T08:00:00.000Z',
  version: 1,
}
const units = [1, 2, 3, 4].map((n) => ({
  id: `U${n}`,
  parentId: null,
  name: `Ward ${n}`,
  origin: 'own' as const,
  version: 1,
}))

/** The Monday of week `i`. */
const week = (i: number) =>
  new Date(Date.UTC(2024, 0, 1) + i * 7 * 86_400_000).toISOString().slice(0, 10)

/** A test that began in a week and predicts the measure of one ward; of none where `ward` is 0. */
const test = (
  number: number,
  from: number,
  ward: number,
  kind: 'adopt' | 'abandon' = 'adopt',
): TestRecord => ({
  cycle: cycle({
    id: `C${number}`,
    number,
    lockedAt: `${week(from)}T06:00:00.000Z`,
    lockedById: 'A1',
    ranFrom: week(from),
  }),
  predictions: ward === 0 ? [] : [prediction({ cycleId: `C${number}`, measureId: `M${ward}` })],
  decision: decision({ cycleId: `C${number}`, kind }),
})

/** A measure on one ward, week by week. */
function ward(n: number, values: readonly number[], own: Partial<Measure> = {}): MeasureRecord {
  const pooled = own.dataKind === 'classified' || own.dataKind === 'rates'
  return {
    measure: measure({
      id: `M${n}`,
      name: 'Minutes waited',
      dataKind: 'single',
      unitLabel: 'minutes',
      better: 'down',
      unitId: n === 1 ? null : `U${n}`,
      sameAsId: n === 1 ? null : 'M1',
      ...own,
    }),
    observations: values.map((value, i) =>
      observation({
        id: `O${n}-${i}`,
        measureId: `M${n}`,
        at: week(i),
        ...(pooled ? { numerator: value, denominator: 100 } : { value }),
      }),
    ),
    phases: [],
  }
}

/** A level that changes by `by` in week `at`, with chance around it. */
function story(seed: number, n: number, at: number, by: number, level = 50, sd = 3): number[] {
  const random = createRandom(seed)
  return Array.from({ length: n }, (_, i) => level + (i >= at ? by : 0) + sd * random.normal())
}
const whole = (values: readonly number[]) => values.map((v) => Math.max(0, Math.round(v)))
const record = (cycles: readonly TestRecord[]) => ({ project, units, cycles })
const words = (finding: UnitsFinding) => {
  const text = unitsText(finding)
  return [text.headline, ...text.sentences, ...text.limits].join(' ')
}

describe('three wards that began one after the other', () => {
  const tests = [test(1, 14, 1), test(2, 22, 2), test(3, 30, 3)]
  const wards = [
    ward(1, story(1, 48, 14, -12)),
    ward(2, story(2, 48, 22, -11)),
    ward(3, story(3, 48, 30, -13)),
  ]
  const finding = unitsFinding(wards, record(tests))

  it('have each their own effect from their own first test', () => {
    expect(finding.scale).toBe('plain')
    expect(
      finding.units.map(({ unit, start }) => [unit.name, start?.shift.name, start?.source]),
    ).toEqual([
      ['Ward 1', 'test 1', 'own-test'],
      ['Ward 2', 'test 2', 'own-test'],
      ['Ward 3', 'test 3', 'own-test'],
    ])
    for (const { change, finding: own } of finding.units) {
      if (own?.kind !== 'fitted') throw new Error('not fitted')
      expect(change!.value).toBeCloseTo(own.lines.early.value, 10)
      expect(change!.low).toBeCloseTo(own.lines.early.low, 10)
      expect(own.others).toEqual([])
      expect(own.claim).toBe('better')
    }
    expect(finding.units.reduce((sum, u) => sum + u.weight!, 0)).toBeCloseTo(1, 10)
  })

  it('hold the true change in the interval over all, and differ no more than chance gives', () => {
    const { change, distance, claim, differ, n } = finding.together!
    expect([n, claim, differ]).toEqual([3, 'better', false])
    expect(change.low).toBeLessThan(-12)
    expect(change.high).toBeGreaterThan(-12)
    expect(distance.value).toBeCloseTo(change.value, 10)
  })

  it('are said to be stronger evidence than one date', () => {
    expect(finding.stepped).toBe('each-moved')
    const text = unitsText(finding)
    expect(text.headline).toBe('Minutes waited: better over the three units together.')
    expect(text.sentences[0]).toMatch(
      /^The changes differ from unit to unit no more than chance alone can give \(Q [\d.]+ on 2 degrees of freedom, p [\d.]+, I² \d+ %\)\. With three units, a real difference between them is easily missed\.$/,
    )
    expect(text.sentences[1]).toMatch(
      /^Over the three units together, the points lie about [\d.]+ lower than the line before carried on, the better direction; the data fit anything from [\d.]+ to [\d.]+ lower \(95 % interval\)\.$/,
    )
    expect(text.sentences[2]).toBe(
      'The units started at different times (2024-04-08, 2024-06-03 and 2024-07-29), and each moved the same way after its own start. That is stronger evidence than one date: anything else would have had to reach each unit just when it started.',
    )
    expect(unitWords(finding.units[1]!)).toEqual({
      unit: 'Ward 2',
      start: 'From test 2 (2024-06-03), its own first test.',
      change: expect.stringMatching(/^[\d.]+ lower \([\d.]+ to [\d.]+\), the better direction\.$/),
    })
  })

  it('prove little by their dates where one did not move', () => {
    const still = unitsFinding([wards[0]!, wards[1]!, ward(3, story(4, 48, 30, 0))], record(tests))
    expect(still.stepped).toBe('not-each')
    expect(still.together!.differ).toBe(true)
    expect(words(still)).toContain('the units differ by more than chance.')
    expect(words(still)).toContain('Read each unit by itself before the figure over all.')
    expect(words(still)).toContain('so the different dates prove little.')
    expect(words(still)).toContain('an average of units that may differ')
    expect(unitWords(still.units[2]!).change).toMatch(/^Not clear of its earlier line: /)
  })

  it('prove little where all moved at the first of the dates', () => {
    const common = [1, 2, 3].map((n) => ward(n, story(n + 10, 48, 14, -12)))
    expect(unitsFinding(common, record(tests)).stepped).toBe('not-each')
  })

  it('take the date that somebody chose for one of them', () => {
    const chosen = unitsFinding(wards, record(tests), new Map([['M3', 'C2']]))
    const third = chosen.units.find(({ unit }) => unit.name === 'Ward 3')!
    expect(third.start).toMatchObject({ source: 'chosen', shift: { name: 'test 2' } })
    expect(unitWords(third).start).toBe('From test 2 (2024-06-03), the date chosen for it.')
  })
})

describe('a ward without a test of its own', () => {
  const wards = [ward(1, story(21, 40, 20, -12)), ward(2, story(22, 40, 20, 0))]

  it('is looked at from the first test of the project, which is said', () => {
    const finding = unitsFinding(wards, record([test(1, 10, 0, 'abandon'), test(2, 20, 1)]))
    expect(finding.units.map(({ unit, start }) => [unit.name, start?.source])).toEqual([
      ['Ward 1', 'own-test'],
      ['Ward 2', 'project-test'],
    ])
    expect(finding.units[1]!.start!.shift.name).toBe('test 2')
    expect(unitWords(finding.units[1]!).start).toBe(
      'From test 2 (2024-05-20), the first test of the project; it has none of its own.',
    )
    expect(finding.units[1]!.change).not.toBeNull()
    expect(words(finding)).toBe(
      'Minutes waited: too little to compare the units. Only Ward 1 has a start of its own and enough points to say what it did, so the units are not compared. Ward 2 has no test of its own and is not in a figure over all. If nothing changed there, its row shows what happened without the change; if it did, choose from when below.',
    )
  })

  it('is drawn beside the others but adds nothing to the figure over all', () => {
    const three = [...wards, ward(3, story(23, 40, 26, -12))]
    const finding = unitsFinding(three, record([test(1, 20, 1), test(2, 26, 3)]))
    expect(finding.units.map(({ unit, weight }) => [unit.name, weight !== null])).toEqual([
      ['Ward 1', true],
      ['Ward 2', false],
      ['Ward 3', true],
    ])
    expect([finding.together!.n, finding.stepped]).toEqual([2, 'each-moved'])
    expect(words(finding)).toContain('(2024-05-20 and 2024-07-01), and each moved the same way')
    expect(words(finding)).toContain('Ward 2 has no test of its own')
    expect(words(finding)).toContain('Two units say little about a third.')
    const both = unitsFinding(
      three,
      record([test(1, 20, 1), test(2, 26, 3)]),
      new Map([['M2', 'C1']]),
    )
    expect(both.together!.n).toBe(3)
    expect(both.together!.differ).toBe(true)
  })

  it('has no date at all before any test has started', () => {
    const finding = unitsFinding(wards, record([]))
    expect(finding.together).toBeNull()
    expect(unitWords(finding.units[0]!)).toEqual({
      unit: 'Ward 1',
      start: 'No test has been locked and started, so there is no date to look from.',
      change: '',
    })
    expect(words(finding)).toBe(
      'Minutes waited: too little to compare the units. No unit has a start of its own and enough points to say what it did, so the units are not compared.',
    )
  })
})

describe('units that tell too little', () => {
  const tests = [test(1, 20, 1), test(2, 20, 2), test(3, 20, 3)]

  it('are listed with the reason and left out of the figure over all', () => {
    const finding = unitsFinding(
      [
        ward(1, story(31, 40, 20, -12)),
        ward(2, story(32, 40, 20, -12)),
        ward(3, story(33, 22, 20, -12)),
        ward(
          4,
          Array.from({ length: 40 }, () => 5),
        ),
      ],
      record(tests),
    )
    expect(finding.together!.n).toBe(2)
    expect(finding.stepped).toBe('same-time')
    const by = (name: string) => unitWords(finding.units.find(({ unit }) => unit.name === name)!)
    expect(by('Ward 3').change).toBe(
      'Too little to tell: 20 points before and 2 from then on; 8 on either side are needed.',
    )
    expect(by('Ward 4').change).toBe('Nothing moves: all points have the same value.')
    expect(words(finding)).toContain(
      'The units started at about the same time, so anything else that began then would show in all of them.',
    )
    expect(words(finding)).toContain(
      'Ward 3 and Ward 4 tell too little and are not in the figure over all.',
    )
  })

  it('are not compared where only one is left', () => {
    const finding = unitsFinding(
      [ward(1, story(34, 40, 20, -12)), ward(2, story(35, 22, 20, -12))],
      record(tests),
    )
    expect(finding.together).toBeNull()
    expect(words(finding)).toContain('Only Ward 1 has a start of its own')
  })

  it('are all of them where gaps between rare events are measured', () => {
    const gaps = { dataKind: 'time-between' as const }
    const finding = unitsFinding(
      [ward(1, story(36, 40, 20, 12), gaps), ward(2, story(37, 40, 20, 12), gaps)],
      record(tests),
    )
    expect(finding.together).toBeNull()
    expect(unitWords(finding.units[0]!).change).toBe(
      'No line is drawn through gaps between rare events.',
    )
  })

  it('are those whose points resemble each other too much', () => {
    const random = createRandom(5)
    let level = 50
    const walk = Array.from({ length: 40 }, () => (level += random.normal()))
    const finding = unitsFinding(
      [ward(1, walk), ward(2, story(38, 40, 20, -12)), ward(3, story(39, 40, 20, -12))],
      record(tests),
    )
    const first = finding.units.find(({ unit }) => unit.name === 'Ward 1')!
    expect(unitWords(first).change).toBe(
      'Too little to tell: each point resembles the one before it too much.',
    )
    expect(finding.together!.n).toBe(2)
  })
})

describe('how a change is told', () => {
  const tests = [test(1, 20, 1), test(2, 26, 2), test(3, 32, 3)]
  const starts = [20, 26, 32]

  it('is a difference of shares at the average level of the units', () => {
    const shares = { dataKind: 'classified' as const, better: 'up' as const, name: 'Sent in time' }
    const finding = unitsFinding(
      starts.map((at, i) => ward(i + 1, whole(story(41 + i, 52, at, 18, 60, 4)), shares)),
      record(tests),
    )
    expect(finding.scale).toBe('logit')
    expect(finding.together!.base).toBeCloseTo(0.6, 1)
    expect(unitsText(finding).sentences[1]).toMatch(
      /^Over the three units together, where the line before carried on stands at \d+ %, the points lie about [\d.]+ percentage points higher, the better direction; the data fit anything from [\d.]+ to [\d.]+ percentage points higher \(95 % interval\)\.$/,
    )
  })

  it('is a percentage for rates and counts, or a multiple where it is large', () => {
    const rates = { dataKind: 'rates' as const, per: 1000, name: 'Falls', unitLabel: 'bed-days' }
    const fewer = unitsFinding(
      starts.map((at, i) => ward(i + 1, whole(story(51 + i, 52, at, -20, 50, 4)), rates)),
      record(tests),
    )
    expect(fewer.scale).toBe('log')
    expect(fewer.together!.change.value).toBeCloseTo(0.6, 1)
    expect(unitsText(fewer).sentences[1]).toMatch(
      /the points lie about \d+ % lower than the line before carried on, the better direction; the data fit anything from \d+ % to \d+ % lower/,
    )
    const more = unitsFinding(
      starts.map((at, i) =>
        ward(i + 1, whole(story(61 + i, 52, at, 100, 40, 4)), { ...rates, better: null }),
      ),
      record(tests),
    )
    expect(more.together!.claim).toBe('higher')
    expect(unitsText(more).sentences[1]).toMatch(
      /the points lie about 3\.\d times as high as the line before carried on; the data fit anything from [\d.]+ times as high to [\d.]+ times as high/,
    )
  })

  it('is on one scale for all, even where one unit alone could have another', () => {
    const timed = { valueFormat: 'duration' as const }
    const finding = unitsFinding(
      [ward(1, story(71, 52, 20, -12), timed), ward(2, [0, ...story(72, 51, 25, -12)], timed)],
      record(tests),
    )
    expect(finding.scale).toBe('plain')
    expect(
      finding.units.every(({ finding: own }) => own?.kind === 'fitted' && own.scale === 'plain'),
    ).toBe(true)
  })

  it('claims nothing where the units together are not clear of their lines', () => {
    const finding = unitsFinding(
      [ward(1, story(81, 40, 20, 0)), ward(2, story(82, 40, 26, 0))],
      record(tests),
    )
    expect(finding.together!.claim).toBe('none')
    expect(words(finding)).toContain('not clear over the two units together.')
    expect(words(finding)).toMatch(
      /the points do not stand clear of the line before carried on; the data fit anything from [\d.]+ lower to [\d.]+ higher \(95 % interval\)/,
    )
  })
})

it('claims a change or a difference where there is none about as often as it says', () => {
  const stories = 200
  const tests = [test(1, 14, 1), test(2, 20, 2), test(3, 26, 3)]
  let claims = 0
  let differ = 0
  let stepped = 0
  for (let i = 0; i < stories; i++) {
    const wards = [1, 2, 3].map((n) => ward(n, story(1000 + 3 * i + n, 40, 14, 0)))
    const finding = unitsFinding(wards, record(tests))
    if (finding.together!.claim !== 'none') claims++
    if (finding.together!.differ) differ++
    if (finding.stepped === 'each-moved') stepped++
  }
  // 5 % said; three Monte Carlo errors of 200 stories are 4.6 points more.
  expect(claims / stories).toBeLessThan(0.096)
  expect(differ / stories).toBeLessThan(0.096)
  expect(stepped).toBe(0)
})
