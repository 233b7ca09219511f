import { speakDurations } from '../domain/duration.ts'
import type { RoundState } from '../domain/workshop/room-state.ts'
import { foundText } from './words.ts'

/** Text whose clock times are read out in words: `0:38` is 38 seconds, not a time of day. */
export function Said({ children: text }: { children: string }) {
  const words = speakDurations(text)
  if (words === text) return <>{text}</>
  return (
    <>
      <span aria-hidden="true">{text}</span>
      <span class="hidden">{words}</span>
    </>
  )
}

/** How a round came out against its prediction. */
export function Found({ round, items }: { round: RoundState; items: number }) {
  return (
    <>
      {foundText(round, items).map((line) => (
        <p key={line}>
          <Said>{line}</Said>
        </p>
      ))}
    </>
  )
}
