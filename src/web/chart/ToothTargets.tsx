import type { KeyboardEvent } from 'react'
import type { ToothTarget } from '../../charts/spec.ts'

export interface ToothTargetsProps {
  readonly teeth: readonly ToothTarget[]
  /** Without it the teeth are only named. */
  readonly onOpenTest?: ((id: string) => void) | undefined
}

/** A button over each tooth that opens its test. */
export function ToothTargets({ teeth, onOpenTest }: ToothTargetsProps) {
  return (
    <g>
      {teeth.map((tooth) => {
        const open = () => onOpenTest?.(tooth.id)
        const onKeyDown = (event: KeyboardEvent) => {
          if (event.key !== 'Enter' && event.key !== ' ') return
          event.preventDefault()
          open()
        }
        const hit = <rect {...tooth.hit} rx={4} className="chart-hit chart-tooth-hit" />
        if (onOpenTest === undefined) {
          return (
            // biome-ignore lint/a11y/noInteractiveElementToNoninteractiveRole: a <g> is not interactive by itself
            <g key={tooth.id} role="img" aria-label={tooth.text}>
              {hit}
            </g>
          )
        }
        return (
          // biome-ignore lint/a11y/useSemanticElements: HTML buttons cannot stand inside a drawing
          <g
            key={tooth.id}
            role="button"
            tabIndex={0}
            className="chart-tooth-target"
            aria-label={`Open ${tooth.text}`}
            onClick={open}
            onKeyDown={onKeyDown}
          >
            <title>{tooth.text}</title>
            {hit}
          </g>
        )
      })}
    </g>
  )
}
