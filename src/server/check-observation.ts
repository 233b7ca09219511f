import type { Issue } from '../domain/issue.ts'
import type { Measure, Observation } from '../domain/record.ts'
import { AppError } from '../errors.ts'

type Values = Pick<Observation, 'value' | 'numerator' | 'denominator'>

/**
 * What is wrong with the numbers of an observation, given what its measure observes. A missing
 * number is no mistake: it is a gap.
 *
 * @param at Where the row stands in the request, such as `save.3`.
 */
export function observationIssues(
  { dataKind, valueFormat }: Pick<Measure, 'dataKind' | 'valueFormat'>,
  { value, numerator, denominator }: Values,
  at: string,
): Issue[] {
  const issues: Issue[] = []
  const say = (field: keyof Values, message: string) =>
    issues.push({ code: 'observation.invalid', field: `${at}.${field}`, message })

  if (dataKind === 'classified' || dataKind === 'rates') {
    if (value !== null) say('value', 'This measure takes a numerator and a denominator instead.')
    if (numerator !== null && !isCount(numerator))
      say('numerator', `${numerator} is not a whole number from 0 up.`)
    if (denominator !== null && denominator < 0) say('denominator', 'It cannot be below zero.')
    if (dataKind === 'classified') {
      if (denominator !== null && denominator >= 0 && !isCount(denominator))
        say('denominator', `${denominator} is not a whole number from 0 up.`)
      if (numerator !== null && denominator !== null && numerator > denominator)
        say('numerator', `${numerator} of ${denominator}: more than there were.`)
    }
    return issues
  }
  if (numerator !== null) say('numerator', 'This measure takes a single value instead.')
  if (denominator !== null) say('denominator', 'This measure takes a single value instead.')
  if (value === null) return issues
  if ((dataKind === 'counts' || dataKind === 'cases-between') && !isCount(value))
    say('value', `${value} is not a whole number from 0 up.`)
  else if ((dataKind === 'time-between' || valueFormat === 'duration') && value < 0)
    say('value', 'A time cannot be below zero.')
  return issues
}

const isCount = (n: number) => Number.isInteger(n) && n >= 0

/** @throws AppError `observation.invalid` when there are issues. */
export function mustBeValid(issues: readonly Issue[]): void {
  if (issues.length === 0) return
  throw new AppError(
    'observation.invalid',
    issues.length === 1
      ? issues[0]!.message
      : `${issues.length} observations cannot be saved as they are.`,
    'Correct the cells that are named; nothing was saved.',
    { issues },
  )
}
