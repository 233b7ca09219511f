import type { Countdown } from '../../../domain/workshop/room.ts'

/** Seconds until the end, rounded up as people count; 0 or below once it is over. */
export const secondsLeft = (countdown: Countdown, now: number): number =>
  Math.ceil((Date.parse(countdown.endsAt) - now) / 1000)

/** Whole seconds as m:ss. */
export function clockText(seconds: number): string {
  const whole = Math.max(0, Math.floor(seconds))
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`
}

/** How long ago, as short as says it. */
export function agoText(from: string | null, now: number): string {
  if (from === null) return 'nothing yet'
  const seconds = Math.max(0, Math.round((now - Date.parse(from)) / 1000))
  if (seconds < 10) return 'just now'
  if (seconds < 90) return `${seconds} s ago`
  const minutes = Math.round(seconds / 60)
  return minutes < 90 ? `${minutes} min ago` : `${Math.round(minutes / 60)} h ago`
}
