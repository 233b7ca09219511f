import { expect, it } from 'vitest'
import { aimText, missingAimParts } from './aim-parts.ts'

const EMPTY = { what: '', howMuch: '', byWhen: '', forWhom: '', baseline: '' }

it('names every part of an aim that nobody wrote', () => {
  expect(missingAimParts(EMPTY)).toEqual(['what', 'howMuch', 'byWhen', 'forWhom', 'baseline'])
  expect(aimText(EMPTY)).toBe(
    'Not said yet: what is to get better, how much, by when, for whom and from which baseline.',
  )
})

it('does not set two full stops', () => {
  expect(aimText({ ...EMPTY, what: 'Fewer falls.' })).toBe(
    'Fewer falls. Not said yet: how much, by when, for whom and from which baseline.',
  )
})
