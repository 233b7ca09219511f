import { formatDuration } from '../domain/duration.ts'
import type { Expectation } from '../domain/workshop/moves.ts'
import type { RoundState } from '../domain/workshop/room-state.ts'
import { itemsText, rangeText } from './words.ts'

interface PlotRound {
  readonly number: number
  readonly x: number
  /** `null`: nothing predicted. */
  readonly bracket: { readonly top: number; readonly bottom: number; readonly tick: number } | null
  readonly dot: number | null
}

export interface Plot {
  readonly width: number
  readonly height: number
  readonly rounds: readonly PlotRound[]
  readonly ticks: readonly { readonly y: number; readonly label: string }[]
  readonly baseline: number
}

const WIDTH = 320
const HEIGHT = 150
const LEFT = 44
const RIGHT = 12
const TOP = 12
const BOTTOM = 26

/** Steps that read well on a clock, in seconds. */
const CLOCK_STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 1200, 3600]

/**
 * Where a table's own rounds are drawn. The scale begins at zero and always holds every time and
 * every prediction, so that no round falls off it.
 */
export function timePlot(rounds: readonly RoundState[]): Plot {
  const values = rounds.flatMap(({ seconds, predictions }) => [
    seconds ?? 0,
    predictions?.time?.high ?? 0,
  ])
  const most = Math.max(1, ...values)
  const step = CLOCK_STEPS.find((s) => most / s <= 4) ?? Math.ceil(most / 4 / 3600) * 3600
  return layOut(rounds, step, Math.ceil(most / step) * step, formatDuration, (round) => ({
    value: round.seconds,
    predicted: round.predictions?.time ?? null,
  }))
}

/** The same for items right: from 0 to the length of the checklist. */
export function itemsPlot(rounds: readonly RoundState[], items: number): Plot {
  const step = Math.max(1, Math.ceil(items / 4))
  const scaled = (e: Expectation | null) =>
    e === null ? null : { low: e.low * items, expected: e.expected * items, high: e.high * items }
  return layOut(rounds, step, items, String, ({ right, inspected, predictions }) => ({
    // On the scale of the whole list, where only part of it was inspected.
    value: right === null || !inspected ? null : (right / inspected) * items,
    predicted: scaled(predictions?.quality ?? null),
  }))
}

function layOut(
  rounds: readonly RoundState[],
  step: number,
  most: number,
  label: (value: number) => string,
  of: (round: RoundState) => { value: number | null; predicted: Expectation | null },
): Plot {
  const baseline = HEIGHT - BOTTOM
  const y = (value: number) => round1(baseline - (value / most) * (baseline - TOP))
  const slot = (WIDTH - LEFT - RIGHT) / Math.max(1, rounds.length)
  return {
    ...{ width: WIDTH, height: HEIGHT, baseline },
    ticks: Array.from({ length: Math.floor(most / step) + 1 }, (_, i) => ({
      y: y(i * step),
      label: label(i * step),
    })),
    rounds: rounds.map((round, i) => {
      const { value, predicted } = of(round)
      return {
        number: round.number,
        x: round1(LEFT + slot * (i + 0.5)),
        bracket:
          predicted === null
            ? null
            : { top: y(predicted.high), bottom: y(predicted.low), tick: y(predicted.expected) },
        dot: value === null ? null : y(value),
      }
    }),
  }
}

const round1 = (value: number) => Math.round(value * 10) / 10

/** What the pictures say, one sentence a round. */
export function plotText(rounds: readonly RoundState[], items: number): string[] {
  return rounds.map(({ number, seconds, right, inspected, predictions }) => {
    const said = [
      predictions?.time ? rangeText(predictions.time) : '',
      predictions?.quality ? itemsText(predictions.quality, items) : '',
    ].filter((part) => part !== '')
    const got = [
      seconds === null ? 'no time' : formatDuration(seconds),
      right === null ? 'not inspected' : `${right} of ${inspected} items right`,
    ]
    const expected = said.length === 0 ? 'nothing predicted' : `predicted ${said.join(', ')}`
    return `Round ${number}: ${expected}; got ${got.join(', ')}.`
  })
}
