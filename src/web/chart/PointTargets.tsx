import { type KeyboardEvent, type PointerEvent, useRef } from 'react'
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

/** With more points than these, only those next to the one at hand are in the page. */
const MOST_TARGETS = 400

/**
 * A column over each point to point at, tap, or step through: one Tab stop, then arrow keys, Home
 * and End. Each says its date, value, centre, limits and signals.
 */
export function PointTargets({ points, sentences, active, onActive, radius }: PointTargetsProps) {
  const group = useRef<SVGGElement>(null)
  const stop = active ?? 0
  const many = points.length > MOST_TARGETS
  const last = points.length - 1
  const inPage = many
    ? points.filter((_, i) => i === 0 || i === last || Math.abs(i - stop) <= 1)
    : points

  function onKeyDown(event: KeyboardEvent) {
    const next = nextIndex(event.key, stop, points.length)
    if (next === null) return
    event.preventDefault()
    onActive(next)
    group.current?.querySelector<SVGGElement>(`[data-point="${next}"]`)?.focus()
  }

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the keys belong to the points inside
    <g ref={group} onKeyDown={onKeyDown} onPointerLeave={() => onActive(null)}>
      {inPage.map((point) => (
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
      {many && <PointerField points={points} onActive={onActive} />}
    </g>
  )
}

/** One area over all points, where there are too many for an area each. */
function PointerField({ points, onActive }: Pick<PointTargetsProps, 'points' | 'onActive'>) {
  const first = points[0]!.hit
  const end = points.at(-1)!.hit
  const width = end.x + end.width - first.x

  function find(event: PointerEvent<SVGRectElement>) {
    const box = event.currentTarget.getBoundingClientRect()
    const x = first.x + ((event.clientX - box.left) / box.width) * width
    onActive(pointAt(points, x))
  }

  return (
    <rect
      x={first.x}
      y={first.y}
      width={width}
      height={first.height}
      className="chart-hit"
      onPointerMove={find}
      onPointerDown={find}
    />
  )
}

/** The point whose column holds `x`; the nearest end outside of all. */
function pointAt(points: readonly PointTarget[], x: number): number {
  let low = 0
  let high = points.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (points[middle]!.hit.x <= x) low = middle
    else high = middle - 1
  }
  return low
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
