import type { Countdown } from '../../../domain/workshop/room.ts'

/** Seconds until the end, rounded up as people count; 0 or below once it is over. */
export const secondsLeft = (countdown: Countdown, now: number): number =>
  Math.ceil((Date.parse(countdown.endsAt) - now) / 1000)

/** Whole seconds as m:ss. */
export function clockText(seconds: number): string {
  const whole = Math.max(0, Math.floor(seconds))
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`
}

/** A stretch of time as short as says it. */
export function stretchText(seconds: number): string {
  if (seconds < 90) return `${Math.round(seconds)} s`
  const minutes = Math.round(seconds / 60)
  return minutes < 90 ? `${minutes} min` : `${Math.round(minutes / 60)} h`
}

/** How long ago, in whole words. */
export const agoText = (seconds: number): string =>
  seconds < 10 ? 'just now' : `${stretchText(seconds)} ago`
