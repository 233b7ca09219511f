import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { editableValue, formatNumber, formatValue, parseNumber, parseValue } from './value-text.ts'

const share = { dataKind: 'classified', valueFormat: 'number' } as const
const single = { dataKind: 'single', valueFormat: 'number' } as const
const time = { dataKind: 'single', valueFormat: 'duration' } as const

describe('parseValue', () => {
  it.each([
    [share, '74 %', 0.74, null],
    [share, '74', 0.74, null],
    [share, '7,5%', 0.075, null],
    [share, '0.5', 0.005, 0.5],
    [share, '1', 0.01, 1],
    [share, '0', 0, null],
    [single, '3,5', 3.5, null],
    [single, '−2', -2, null],
    [time, '1:02', 62, null],
    [time, '102', 102, 62],
  ])('%j reads %j', (measure, text, value, perhaps) => {
    expect(parseValue(measure, text)).toEqual({ value, perhaps })
  })

  it.each([
    [share, 'many'],
    [single, '5 %'],
    [single, '1,234'],
    [single, ''],
    [single, 'Infinity'],
  ])('%j refuses %j', (measure, text) => {
    expect(() => parseValue(measure, text)).toThrow(
      expect.objectContaining({ code: 'value.unreadable' }),
    )
  })

  it('reads back what a field was filled with', () => {
    const amount = fc.integer({ min: 0, max: 1_000_000 })
    fc.assert(
      fc.property(fc.constantFrom(share, single, time), amount, (measure, n) => {
        const value = measure === share ? n / 1_000_000 : n / 1000
        expect(parseValue(measure, editableValue(measure, value)).value).toBeCloseTo(value, 9)
      }),
    )
  })
})

describe('parseNumber', () => {
  it.each(['1,234', '1.234,5', '1 234', '12a', '--1', '', '1e999'])('does not guess %j', (text) => {
    expect(parseNumber(text)).toBeNull()
  })
})

describe('formatting', () => {
  it.each([
    [share, 0.7381, '74 %'],
    [share, 0.0215, '2.2 %'],
    [share, 0, '0 %'],
    [share, 0.07, '7 %'],
    [share, 0.0999, '10 %'],
    [share, 0.1053, '11 %'],
    [share, -0.0249, '−2.5 %'],
    [share, null, '–'],
    [time, 62, '1:02'],
    [single, 50.8123, '50.8'],
  ])('%j shows %d as %s', (measure, value, text) => {
    expect(formatValue(measure, value)).toBe(text)
  })

  it.each([
    [1234567, '1,234,567'],
    [-0.001, '0'],
    [-2.7654, '−2.77'],
    [100, '100'],
    [10, '10'],
    [0.5, '0.5'],
  ])('writes %d as %s', (value, text) => {
    expect(formatNumber(value)).toBe(text)
  })
})
