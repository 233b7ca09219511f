import { useState } from 'react'
import { Link } from 'wouter'
import type { MeasureReply } from '../../api/contract.ts'
import { unitIdOf } from '../../domain/repeats.ts'
import { Button } from '../ui/Button.tsx'
import { Section } from '../ui/Section.tsx'
import { RepeatDialog } from './RepeatDialog.tsx'

export interface UnitsSectionProps {
  readonly data: MeasureReply
  readonly readOnly: boolean
}

/** Where the measure is taken, and on which other units it is the same. */
export function UnitsSection({ data, readOnly }: UnitsSectionProps) {
  const [open, setOpen] = useState(false)
  const { measure, project, units, family } = data
  const nameOf = (m: MeasureReply['measure']) =>
    units.find((unit) => unit.id === unitIdOf(m, project))?.name ?? ''
  const original = family.find((m) => m.id === measure.sameAsId) ?? measure
  return (
    <Section
      title="Units"
      id="units"
      aside={<p>One change on several units, begun at different times, shows more than on one.</p>}
    >
      {family.length === 0 ? (
        <p>Taken on {nameOf(measure)} only.</p>
      ) : (
        <>
          <p>The same measure, with the same definition, is taken on {family.length} units.</p>
          <ul>
            {family.map((m) => (
              <li key={m.id}>
                {nameOf(m)}:{' '}
                {m.id === measure.id ? (
                  <>{m.name} (this one)</>
                ) : (
                  <Link href={`/measures/${m.id}`}>{m.name}</Link>
                )}
              </li>
            ))}
          </ul>
          <p>
            <Link href={`/projects/${project.id}/effect`}>What they did, side by side</Link>
          </p>
        </>
      )}
      {!readOnly && <Button onClick={() => setOpen(true)}>Measure this on another unit too</Button>}
      {open && <RepeatDialog original={original} data={data} onClose={() => setOpen(false)} />}
    </Section>
  )
}
