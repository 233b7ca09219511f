import { formatDuration, speakDurations } from '../domain/duration.ts'
import type { Expectation } from '../domain/workshop/moves.ts'
import { rangeText } from './words.ts'

const WIDTH = 350

/** Where the clock stands against the prediction: the bracket is what the table said. */
export function TimeTrack({ seconds, said }: { seconds: number; said: Expectation | null }) {
  const most = Math.max((said?.high ?? 60) * 1.6, seconds * 1.05, 1)
  const x = (value: number) => Math.round((value / most) * (WIDTH - 16) * 10) / 10 + 8
  const middle = said === null ? 0 : (x(said.low) + x(said.high)) / 2
  return (
    <svg
      class="track"
      viewBox={`0 0 ${WIDTH} 52`}
      role="img"
      aria-hidden={said === null}
      aria-label={speakDurations(`Most likely ${formatDuration(said?.expected ?? 0)}`)}
    >
      <line class="rail" x1={0} x2={WIDTH} y1={38} y2={38} />
      {said !== null && (
        <>
          <text x={Math.min(WIDTH - 62, Math.max(62, middle))} y={12} text-anchor="middle">
            said {rangeText(said)}
          </text>
          {said.low < said.high && (
            <rect
              class="bracket"
              x={x(said.low)}
              y={25}
              width={x(said.high) - x(said.low)}
              height={26}
            />
          )}
          <line class="bracket" x1={x(said.expected)} x2={x(said.expected)} y1={20} y2={51} />
        </>
      )}
      <circle class="now" cx={x(seconds)} cy={38} r={8} />
    </svg>
  )
}
