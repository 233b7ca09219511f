import { changeRange, changeSize, isUnbounded } from '../../domain/change-text.ts'
import type { Finding } from '../../domain/finding.ts'

/** The change a team predicted above the change that was seen, on one axis with "no change" marked. */
export function ChangePicture({ finding }: { readonly finding: Finding }) {
  const { change, predictedChange: said, measure } = finding
  if (change === null || change.estimate === null || change.interval === null) return null
  const { kind, estimate, interval } = change
  if (isUnbounded(kind, interval) || (kind === 'ratio' && estimate <= 0)) return null
  const none = kind === 'ratio' ? 1 : 0
  const scale = (value: number) => (kind === 'ratio' ? Math.log(value) : value)
  const known = [none, estimate, interval.lower, interval.upper, said?.low, said?.high]
    .filter(
      (v): v is number => v !== undefined && Number.isFinite(v) && (kind !== 'ratio' || v > 0),
    )
    .map(scale)
  const least = Math.min(...known)
  const most = Math.max(...known)
  if (!(most > least)) return null
  /** Where a value stands, in percent of the width; ends without a bound lie at the edges. */
  const place = (value: number) => {
    const v = scale(value)
    const share = v === -Infinity ? 0 : v === Infinity ? 1 : (v - least) / (most - least)
    return 4 + 92 * share
  }
  const x = (value: number) => `${place(value)}%`
  const words = (value: number) => changeSize(kind, value, measure)
  const text = [
    said === null
      ? null
      : `Predicted change: ${changeRange(kind, { lower: said.low, upper: said.high }, measure)}.`,
    `Change seen: ${words(estimate)}, 95 % interval ${changeRange(kind, interval, measure)}${change.ifAlone ? ', if each point stands by itself' : ''}.`,
  ]
    .filter((part) => part !== null)
    .join(' ')
  const zero = place(none)
  const anchor = zero < 20 ? 'start' : zero > 80 ? 'end' : 'middle'
  const seen = said === null ? 30 : 66
  return (
    <figure className="change-picture">
      <svg width="100%" height={seen + 38} role="img" aria-label={text}>
        <line className="none" x1={x(none)} x2={x(none)} y1={4} y2={seen + 16} />
        {said !== null && (
          <g className="said">
            <line x1={x(said.low)} x2={x(said.high)} y1={28} y2={28} />
            <line x1={x(said.low)} x2={x(said.low)} y1={20} y2={36} />
            <line x1={x(said.high)} x2={x(said.high)} y1={20} y2={36} />
            {said.expected !== null && (
              <line x1={x(said.expected)} x2={x(said.expected)} y1={22} y2={34} />
            )}
            <Label at={(place(said.low) + place(said.high)) / 2} y={13}>
              predicted
            </Label>
          </g>
        )}
        <g className="seen">
          <line x1={x(interval.lower)} x2={x(interval.upper)} y1={seen} y2={seen} />
          <circle cx={x(estimate)} cy={seen} r={5} />
          <Label at={place(estimate)} y={seen - 11}>
            seen
          </Label>
        </g>
        <text className="axis" x={x(none)} y={seen + 32} textAnchor={anchor}>
          no change
        </text>
        {zero > 34 && (
          <text className="axis" x="0" y={seen + 32}>
            lower
          </text>
        )}
        {zero < 66 && (
          <text className="axis" x="100%" y={seen + 32} textAnchor="end">
            higher
          </text>
        )}
      </svg>
    </figure>
  )
}

interface LabelProps {
  readonly at: number
  readonly y: number
  readonly children: string
}

function Label({ at, y, children }: LabelProps) {
  const anchor = at < 12 ? 'start' : at > 88 ? 'end' : 'middle'
  return (
    <text x={`${at}%`} y={y} textAnchor={anchor}>
      {children}
    </text>
  )
}
