import { Checkbox } from '../../ui/Checkbox.tsx'

export interface PromptsFieldProps {
  readonly prompts: readonly string[]
  /** Indexes of those that do not show. */
  readonly off: readonly number[]
  readonly onChange: (off: readonly number[]) => void
}

/** Which of a kit's strategy prompts tables see before they predict. */
export function PromptsField({ prompts, off, onChange }: PromptsFieldProps) {
  if (prompts.length === 0) return null
  return (
    <fieldset className="group">
      <legend>Strategy prompts that tables see</legend>
      <ul className="bare">
        {prompts.map((prompt, i) => (
          <li key={prompt}>
            <Checkbox
              label={prompt}
              checked={!off.includes(i)}
              onChange={(on) => onChange(on ? off.filter((n) => n !== i) : [...off, i])}
            />
          </li>
        ))}
      </ul>
    </fieldset>
  )
}
