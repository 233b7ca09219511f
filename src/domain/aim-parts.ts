/** What an aim must say, in the order in which it reads. */
const AIM_PARTS = ['what', 'howMuch', 'byWhen', 'forWhom', 'baseline'] as const
export type AimPart = (typeof AIM_PARTS)[number]
export type Aim = Readonly<Record<AimPart, string>>

/** Each part as it is named where it is missing. */
export const AIM_PART_NAMES: Readonly<Record<AimPart, string>> = {
  what: 'what is to get better',
  howMuch: 'how much',
  byWhen: 'by when',
  forWhom: 'for whom',
  baseline: 'from which baseline',
}

/**
 * Parts of an aim that nobody has written yet.
 *
 * @see Langley et al. (2009), The Improvement Guide, on aims that say what, how much, by when and for
 *   whom (from memory); the baseline is common practice.
 *
 * @example
 * missingAimParts({ what: 'shorter waits', howMuch: 'by half', byWhen: '', forWhom: ' ', baseline: '40 min' }) // => ['byWhen', 'forWhom']
 */
export function missingAimParts(aim: Aim): AimPart[] {
  return AIM_PARTS.filter((part) => aim[part].trim() === '')
}

/**
 * The aim as one text: the parts that are there, and by name those that are still open.
 *
 * @example
 * aimText({ what: 'Shorter waits', howMuch: 'by half', byWhen: 'June', forWhom: 'all', baseline: '40 min' }) // => 'Shorter waits; by half; by when: June; for whom: all; from: 40 min.'
 * aimText({ what: 'Shorter waits', howMuch: '', byWhen: '', forWhom: 'all', baseline: '40 min' }) // => 'Shorter waits; for whom: all; from: 40 min. Not said yet: how much and by when.'
 */
export function aimText(aim: Aim): string {
  const lead: Readonly<Record<AimPart, string>> = {
    what: '',
    howMuch: '',
    byWhen: 'by when: ',
    forWhom: 'for whom: ',
    baseline: 'from: ',
  }
  const missing = missingAimParts(aim)
  const said = AIM_PARTS.filter((part) => !missing.includes(part)).map(
    (part) => lead[part] + aim[part].trim().replace(/\.$/, ''),
  )
  const names = missing.map((part) => AIM_PART_NAMES[part])
  const open =
    names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`
  return [
    said.length === 0 ? '' : `${said.join('; ')}.`,
    open === '' ? '' : `Not said yet: ${open}.`,
  ]
    .filter((sentence) => sentence !== '')
    .join(' ')
}
