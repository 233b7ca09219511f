import { PACES, type Pace, type RoomSettings } from '../../../domain/workshop/room.ts'

/** What is typed to prepare a workshop; lists such as rounds are texts as the browser has them. */
export interface RoomForm {
  readonly name: string
  readonly unitId: string
  readonly unitName: string
  readonly kitKey: string
  readonly rounds: number
  readonly pace: Pace
  readonly predicts: RoomSettings['predicts']
  /** Seconds; `null`: no box. */
  readonly planSeconds: number | null
  readonly trialSeconds: number | null
  readonly timersAgreeWithin: number | null
  /** Prompts that are switched off, by index, so that a kit with more shows all of them. */
  readonly promptsOff: readonly number[]
  readonly rotateRoles: boolean
  readonly asksConfidence: boolean
}

export const ROUND_CHOICES = [1, 2, 3, 4, 5, 6, 7, 8] as const

/** METHODS 2: three to five rounds are common practice. */
export const FIRST_FORM: RoomForm = {
  name: '',
  unitId: '',
  unitName: 'Workshops',
  kitKey: '',
  rounds: 4,
  pace: PACES[0],
  predicts: 'range',
  planSeconds: 240,
  trialSeconds: null,
  timersAgreeWithin: 2,
  promptsOff: [],
  rotateRoles: true,
  asksConfidence: true,
}

/** What is still missing, by field. */
export function roomProblems(form: RoomForm, newUnit: boolean): Readonly<Record<string, string>> {
  const found: Record<string, string> = {}
  if (form.name.trim() === '') found['name'] = 'Give the workshop a name.'
  if (newUnit && form.unitName.trim() === '') found['unitName'] = 'Name the unit.'
  for (const field of ['planSeconds', 'trialSeconds'] as const) {
    const seconds = form[field]
    if (seconds !== null && (seconds < 5 || seconds > 3600))
      found[field] = 'Give a time from 0:05 to 1:00:00, or none.'
  }
  const agree = form.timersAgreeWithin
  if (agree === null || agree < 0 || agree > 60)
    found['timersAgreeWithin'] = 'Give a time from 0 s to 60 s.'
  return found
}

/**
 * The settings that a form stands for.
 *
 * @param prompts How many strategy prompts the kit has.
 */
export function settingsOf(form: RoomForm, prompts: number, tryOut: boolean): RoomSettings {
  return {
    rounds: form.rounds,
    // One person has nobody to wait for.
    pace: tryOut ? 'alone' : form.pace,
    predicts: form.predicts,
    planSeconds: form.planSeconds,
    trialSeconds: form.trialSeconds,
    timersAgreeWithin: form.timersAgreeWithin ?? FIRST_FORM.timersAgreeWithin ?? 2,
    prompts: Array.from({ length: prompts }, (_, i) => i).filter(
      (i) => !form.promptsOff.includes(i),
    ),
    rotateRoles: form.rotateRoles && !tryOut,
    asksConfidence: form.asksConfidence,
    tryOut,
  }
}
