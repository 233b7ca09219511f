import { type KeyboardEvent, useRef } from 'react'
import type { PointTarget } from '../../charts/spec.ts'

export interface PointTargetsProps {
  readonly points: readonly PointTarget[]
  /** What each says, as many as `points`. */
  readonly sentences: readonly string[]
  /** Index of the point that is read out; `null`: none yet. */
  readonly active: number | null
  readonly onActive: (index: number | null) => void
  /** Radius of the ring that shows which point is read out. */
  readonly radius: number
}

/**
 * A column over each point to point at, tap, or step through: one Tab stop, then arrow keys, Home
 * and End. Each says its date, value, centre, limits and signals.
 */
export function PointTargets({ points, sentences, active, onActive, radius }: PointTargetsProps) {
  const group = useRef<SVGGElement>(null)
  const stop = active ?? 0

  function onKeyDown(event: KeyboardEvent) {
    const next = nextIndex(event.key, stop, points.length)
    if (next === null) return
    event.preventDefault()
    onActive(next)
    const targets = group.current?.querySelectorAll<SVGGElement>('[data-point]')
    targets?.[next]?.focus()
  }

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the keys belong to the points inside
    <g ref={group} onKeyDown={onKeyDown} onPointerLeave={() => onActive(null)}>
      {points.map((point) => (
        // biome-ignore lint/a11y/noInteractiveElementToNoninteractiveRole: a <g> is not interactive by itself
        <g
          key={point.index}
          role="img"
          data-point={point.index}
          className="chart-point-target"
          tabIndex={point.index === stop ? 0 : -1}
          aria-label={sentences[point.index]}
          onFocus={() => onActive(point.index)}
          onPointerEnter={() => onActive(point.index)}
          onPointerDown={() => onActive(point.index)}
        >
          <rect
            x={point.hit.x}
            y={point.hit.y}
            width={point.hit.width}
            height={point.hit.height}
            className="chart-hit"
          />
          {point.index === active && (
            <>
              <path
                className="chart-cursor-line"
                d={`M${point.x},${point.hit.y}V${point.hit.y + point.hit.height}`}
              />
              {point.y !== null && (
                <circle className="chart-cursor" cx={point.x} cy={point.y} r={radius} />
              )}
            </>
          )}
        </g>
      ))}
    </g>
  )
}

function nextIndex(key: string, at: number, n: number): number | null {
  switch (key) {
    case 'ArrowRight':
    case 'ArrowDown':
      return Math.min(n - 1, at + 1)
    case 'ArrowLeft':
    case 'ArrowUp':
      return Math.max(0, at - 1)
    case 'Home':
      return 0
    case 'End':
      return n - 1
    default:
      return null
  }
}
