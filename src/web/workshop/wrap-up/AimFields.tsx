import type { Aim, AimPart } from '../../../domain/aim-parts.ts'
import { TextField } from '../../ui/TextField.tsx'

const FIELDS: readonly { readonly part: AimPart; readonly label: string; readonly hint: string }[] =
  [
    {
      part: 'what',
      label: 'What is to get better',
      hint: 'The thing people notice, not the change.',
    },
    { part: 'howMuch', label: 'How much', hint: 'A figure that the measure can show.' },
    { part: 'byWhen', label: 'By when', hint: 'A month or a date.' },
    { part: 'forWhom', label: 'For whom', hint: 'Which patients, which ward; no names.' },
    { part: 'baseline', label: 'From which baseline', hint: 'What it is now, or how to find out.' },
  ]

export interface AimFieldsProps {
  readonly aim: Aim
  readonly set: (part: AimPart, text: string) => void
}

/** The aim in its parts, so that none is forgotten; each may stay open. */
export function AimFields({ aim, set }: AimFieldsProps) {
  return (
    <fieldset className="stack fill wrap-aim">
      <legend>Aim</legend>
      {FIELDS.map(({ part, label, hint }) => (
        <TextField
          key={part}
          label={label}
          hint={hint}
          optional
          value={aim[part]}
          onChange={(text) => set(part, text)}
        />
      ))}
    </fieldset>
  )
}
