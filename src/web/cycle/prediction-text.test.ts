import { expect, it } from 'vitest'
import { predictionText } from './prediction-text.ts'

const share = {
  dataKind: 'classified',
  valueFormat: 'number',
  unitLabel: 'visits',
  per: 1,
} as const
const time = { dataKind: 'single', valueFormat: 'duration', unitLabel: '', per: 1 } as const
const falls = {
  dataKind: 'rates',
  valueFormat: 'number',
  unitLabel: 'bed-days',
  per: 1000,
} as const
const said = (low: number | null, expected: number | null, high: number | null) => ({
  low,
  expected,
  high,
  confidence: 0.8,
})

it('says a whole prediction in the measure’s own way', () => {
  expect(predictionText(share, said(0.6, 0.7, 0.8))).toBe('60 % to 80 %, 80 % sure; 70 % expected.')
  expect(predictionText(falls, said(3, 4, 5))).toBe(
    '3 to 5 per 1,000 bed-days, 80 % sure; 4 expected.',
  )
  expect(predictionText(time, said(38, 45, 55))).toBe('0:38 to 0:55, 80 % sure; 0:45 expected.')
})

it('says what is missing or the wrong way round', () => {
  expect(predictionText(share, said(null, null, null))).toBe('Nothing predicted yet.')
  expect(predictionText(share, said(null, 0.7, null))).toContain('range is still open')
  expect(predictionText(share, said(0.6, null, 0.8))).toContain('expected value is still open')
  expect(predictionText(share, said(0.8, 0.7, 0.6))).toContain('is above the highest')
  expect(predictionText(share, said(0.6, 0.9, 0.8))).toContain('outside that range')
})
