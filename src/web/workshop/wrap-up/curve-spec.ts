import type { CurveChartSpec, CurvePoint } from '../../../charts/curve-chart.ts'
import type { TableCurve } from '../../../domain/workshop/wrap-up-learning.ts'
import { isTimed, type RoundRow } from '../../../domain/workshop/wrap-up-rounds.ts'
import { expectationText, outcomeText } from './round-text.ts'

type Kind = 'time' | 'quality'

function pointOf(row: RoundRow, kind: Kind): CurvePoint {
  const said = row.predictions?.[kind] ?? null
  return {
    round: row.round,
    value: kind === 'time' ? row.seconds : row.share,
    bracket: said === null ? null : { low: said.low, high: said.high, expected: said.expected },
  }
}

/** One table's rounds as a picture wants them; the learning curve goes with the times. */
export function curveSpec(
  rows: readonly RoundRow[],
  kind: Kind,
  table: TableCurve | undefined,
): Pick<CurveChartSpec, 'points' | 'curve' | 'format'> {
  const curve = kind === 'time' ? (table?.curve ?? null) : null
  return {
    points: rows.map((row) => pointOf(row, kind)),
    curve:
      curve === null
        ? null
        : {
            first: curve.first,
            exponent: curve.exponent.estimate,
            turns: rows.filter(isTimed).map(({ round, turn }) => ({ round, turn })),
          },
    format: kind === 'time' ? 'duration' : 'percent',
  }
}

/** Rounds and values of all tables, their curves too, so that their pictures have the same axes. */
export function sharedAxes(
  rows: readonly RoundRow[],
  kind: Kind,
  tables: readonly TableCurve[],
): { readonly rounds: readonly number[]; readonly values: readonly number[] } {
  const points = rows.map((row) => pointOf(row, kind))
  const fitted = tables.flatMap(({ tableId, curve }) =>
    curve === null || kind === 'quality'
      ? []
      : rows
          .filter((row) => row.tableId === tableId)
          .map(({ turn }) => curve.first * turn ** curve.exponent.estimate),
  )
  return {
    rounds: [...new Set(points.map((p) => p.round))],
    values: [
      ...points.flatMap(({ value, bracket }) => [
        value,
        bracket?.low ?? null,
        bracket?.high ?? null,
      ]),
      ...fitted,
    ].filter((value) => value !== null),
  }
}

/** One sentence a round: what was predicted and what came. */
export function describeRounds(rows: readonly RoundRow[], kind: Kind): string {
  return rows
    .map((row) => {
      const said = row.predictions?.[kind] ?? null
      const predicted = said === null ? '' : ` predicted ${expectationText(said, kind)},`
      return `Round ${row.round}:${predicted} came out at ${outcomeText(row, kind)}.`
    })
    .join(' ')
    .replaceAll('came out at –', 'nothing measured')
}
