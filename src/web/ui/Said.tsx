import { speakDurations } from '../../domain/duration.ts'

/**
 * Text whose durations are read out in words: `1:02` is 1 minute 2 seconds, not a time of day. The
 * dash of an empty cell is read out as "none".
 */
export function Said({ children: text }: { readonly children: string }) {
  const words = text === '–' ? 'none' : speakDurations(text)
  if (words === text) return <>{text}</>
  return (
    <>
      <span aria-hidden="true">{text}</span>
      <span className="hidden-text">{words}</span>
    </>
  )
}
