import { describe, expect, it } from 'vitest'
import { chooseChart, guessChart } from './choose-chart.ts'
import { checkedLabelOrder, isBefore, isThrough, labelOrder } from './labels.ts'
import { phaseSpans } from './phases.ts'
import { runCounts } from './run-counts.ts'
import { signalText } from './signal-text.ts'

describe('labels', () => {
  it('GEN13: are ordered by value where all are plain numbers, else as text', () => {
    expect(labelOrder(['1', '-2.5', '10'])).toBe('number')
    expect(labelOrder(['1', '2026-01-05'])).toBe('text')
    expect(isBefore('9', '10', 'number')).toBe(true)
    expect(isBefore('9', '10', 'text')).toBe(false)
  })
  it('GEN13: date-times sort among dates', () => {
    expect(
      checkedLabelOrder(['2026-01-05', '2026-01-05T08:00', '2026-01-05T09:30Z', '2026-01-06']),
    ).toBe('text')
  })
  it('GEN8: a coarser end covers all it begins', () => {
    expect(isThrough('2026-03-31', '2026-03', 'text')).toBe(true)
    expect(isThrough('2026-04-01', '2026-03', 'text')).toBe(false)
    expect(isThrough('2026-03-31T23:00', '2026-03-31', 'text')).toBe(true)
    expect(isThrough('10', '9', 'number')).toBe(false)
  })
})

describe('phaseSpans', () => {
  const at = ['2026-01-05', '2026-01-12', '2026-01-19', '2026-01-26', '2026-02-02']
  const spans = (...starts: Parameters<typeof phaseSpans>[1]) =>
    phaseSpans(at, starts, 'text').spans.map((s) => [s.start, s.end, s.baseEnd])

  it('GEN7: the points before the first start are a phase of their own', () => {
    expect(spans()).toEqual([[0, 5, 5]])
    expect(spans({ at: '2026-01-19' })).toEqual([
      [0, 2, 2],
      [2, 5, 5],
    ])
    expect(spans({ at: '2025-12-01' }, { at: '2026-01-20' })).toEqual([
      [0, 3, 3],
      [3, 5, 5],
    ])
  })
  it('GEN8: a frozen phase ends its base where it is frozen', () => {
    expect(spans({ at: '2026-01-05', frozenThrough: '2026-01-19' })).toEqual([[0, 5, 3]])
    expect(spans({ at: '2026-01-05', frozenThrough: '2027' })).toEqual([[0, 5, 5]])
  })
  it('a start after the last point waits, and two starts in one gap leave no empty phase', () => {
    expect(phaseSpans(at, [{ at: '2026-03-01' }], 'text')).toMatchObject({ ahead: ['2026-03-01'] })
    expect(spans({ at: '2026-01-13' }, { at: '2026-01-14' })).toEqual([
      [0, 2, 2],
      [2, 5, 5],
    ])
  })
})

describe('choice of chart', () => {
  it.each([
    ['single', 'individuals'],
    ['subgrouped', 'xbar-s'],
    ['classified', 'p'],
    ['counts', 'c'],
    ['rates', 'u'],
    ['cases-between', 'g'],
    ['time-between', 't'],
  ])('%s gives %s, with the reason in one sentence', (dataKind, kind) => {
    const choice = chooseChart(dataKind)
    expect(choice.kind).toBe(kind)
    expect(choice.reason).toMatch(/^Each point is .*\.$/)
  })
  it('refuses a kind of data it does not know', () => {
    expect(() => chooseChart('toString')).toThrow(
      expect.objectContaining({ code: 'stats.unknown_data_kind' }),
    )
  })
  it('CH7: one numerator too large is taken for a slip, many for a rate', () => {
    const series = (numerators: number[]) => ({
      at: numerators.map((_, i) => String(i)),
      numerators,
      denominators: numerators.map(() => 10),
    })
    expect(guessChart(series([1, 2, 3, 4, 5, 6, 7, 8, 9, 55]), 1).kind).toBe('p')
    expect(guessChart(series([11, 12, 3, 14, 15]), 1).kind).toBe('u')
  })
})

describe('runCounts', () => {
  it('GEN1: a point on the line joins the run on either side of it', () => {
    expect(runCounts(Uint8Array.of(1, 0, 2, 5, 0, 0, 6, 7, 3))).toMatchObject({
      useful: 6,
      above: 3,
      below: 3,
      crossings: 2,
      longest: 3,
    })
    expect(runCounts(new Uint8Array(4))).toMatchObject({ useful: 0, crossings: 0, longest: 0 })
  })
})

describe('signalText', () => {
  const base = { first: '2026-01-05', last: '2026-02-23', count: 8, median: false } as const
  it.each([
    [
      { rule: 'shift', direction: 'up', better: 'up' },
      '8 points in a row, 2026-01-05 to 2026-02-23, are above the centre line: the better direction.',
    ],
    [
      { rule: 'shift', direction: 'down', better: 'up', median: true },
      '8 points in a row, 2026-01-05 to 2026-02-23, are below the median: the worse direction.',
    ],
    [
      { rule: 'trend', direction: 'down', better: null },
      '8 points in a row, 2026-01-05 to 2026-02-23, keep falling.',
    ],
    [
      { rule: 'two-of-three', direction: 'up', better: 'down' },
      'From 2026-01-05 to 2026-02-23, at least 2 of every 3 points are close to the upper limit or past it: the worse direction.',
    ],
    [
      { rule: 'two-of-three', direction: 'down', better: 'down', count: 2 },
      'Of 3 points in a row 2, 2026-01-05 and 2026-02-23, are close to the lower limit or past it: the better direction.',
    ],
    [
      { rule: 'four-of-five', direction: 'up', better: null, count: 4 },
      'Of 5 points in a row 4, 2026-01-05 to 2026-02-23, are well above the centre line.',
    ],
    [
      {
        rule: 'crossings-too-few',
        direction: null,
        better: 'up',
        median: true,
        found: 2,
        allowed: 8,
      },
      'From 2026-01-05 to 2026-02-23 the line crosses the median only twice, where chance alone seldom gives fewer than 8: the level has probably moved.',
    ],
  ] as const)('GEN12: %o reads as one sentence', (facts, sentence) => {
    expect(signalText({ ...base, ...facts })).toBe(sentence)
  })
})
