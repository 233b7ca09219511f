import { describe, expect, it } from 'vitest'
import { entryHint, readEntry } from './number-entry.ts'

const time = { dataKind: 'single', valueFormat: 'duration' } as const
const share = { dataKind: 'classified', valueFormat: 'number' } as const
const plain = { dataKind: 'single', valueFormat: 'number' } as const

describe('readEntry', () => {
  it('reads a value in the way of its measure', () => {
    expect(readEntry(time, '1:02')).toEqual({ kind: 'value', value: 62 })
    expect(readEntry(share, '74')).toEqual({ kind: 'value', value: 0.74 })
    expect(readEntry(plain, '3,5')).toEqual({ kind: 'value', value: 3.5 })
    expect(readEntry(plain, '  ')).toEqual({ kind: 'blank' })
  })

  it('asks what 102 means, and each answer reads one way only', () => {
    const reading = readEntry(time, '102')
    expect(reading).toMatchObject({
      kind: 'question',
      message: '102: did you mean 1:02 or 102 seconds?',
    })
    if (reading.kind !== 'question') throw new Error('no question')
    expect(reading.choices.map((c) => readEntry(time, c.text))).toEqual([
      { kind: 'value', value: 62 },
      { kind: 'value', value: 102 },
    ])
  })

  it('asks whether 0.5 is half a percent or one half', () => {
    const reading = readEntry(share, '0.5')
    if (reading.kind !== 'question') throw new Error('no question')
    expect(reading.message).toBe('0.5: did you mean 50 % or 0.5 %?')
    expect(reading.choices.map((c) => c.value)).toEqual([0.5, 0.005])
    expect(reading.choices.map((c) => readEntry(share, c.text))).toEqual([
      { kind: 'value', value: 0.5 },
      { kind: 'value', value: 0.005 },
    ])
  })

  it('names what it cannot read', () => {
    expect(readEntry(plain, 'two')).toMatchObject({ kind: 'error' })
    expect(readEntry(time, '1:75')).toMatchObject({ kind: 'error' })
  })
})

it('says how a value is typed', () => {
  expect(entryHint({ ...share, unitLabel: 'visits', per: 1 })).toContain('percent')
  expect(
    entryHint({ dataKind: 'rates', valueFormat: 'number', unitLabel: 'bed-days', per: 1000 }),
  ).toBe('Per 1,000 bed-days')
})
