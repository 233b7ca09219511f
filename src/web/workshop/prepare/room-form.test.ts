import { expect, it } from 'vitest'
import { FIRST_FORM, roomProblems, settingsOf } from './room-form.ts'

it('begins with four rounds, ranges, and all prompts of whatever kit is chosen', () => {
  expect(settingsOf(FIRST_FORM, 3, false)).toEqual({
    rounds: 4,
    pace: 'together',
    predicts: 'range',
    planSeconds: 240,
    trialSeconds: null,
    timersAgreeWithin: 2,
    prompts: [0, 1, 2],
    rotateRoles: true,
    asksConfidence: true,
    tryOut: false,
  })
})

it('leaves out the prompts that are switched off, and never names one the kit lacks', () => {
  const form = { ...FIRST_FORM, promptsOff: [1, 7] }
  expect(settingsOf(form, 3, false).prompts).toEqual([0, 2])
  expect(settingsOf(form, 0, false).prompts).toEqual([])
})

it('lets somebody who tries it out alone go ahead without waiting', () => {
  const settings = settingsOf(FIRST_FORM, 2, true)
  expect(settings).toMatchObject({ pace: 'alone', rotateRoles: false, tryOut: true })
})

it('says what is missing beside its field', () => {
  expect(roomProblems({ ...FIRST_FORM, name: 'Group 2' }, false)).toEqual({})
  expect(roomProblems({ ...FIRST_FORM, name: ' ', unitName: '' }, true)).toEqual({
    name: 'Give the workshop a name.',
    unitName: 'Name the unit.',
  })
  const odd = {
    ...FIRST_FORM,
    name: 'x',
    planSeconds: 2,
    trialSeconds: 4000,
    timersAgreeWithin: null,
  }
  expect(Object.keys(roomProblems(odd, false))).toEqual([
    'planSeconds',
    'trialSeconds',
    'timersAgreeWithin',
  ])
})
