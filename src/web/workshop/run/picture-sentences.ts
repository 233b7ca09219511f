import {
  compareSentences,
  curveSentences,
  errorSentences,
  qualitySentences,
  spreadSentences,
} from '../../../domain/workshop/class-sentences.ts'
import type { RoomPictureName } from '../../../domain/workshop/talking-points.ts'
import type { RoundRow } from '../../../domain/workshop/wrap-up-rounds.ts'

/** What a picture of the class says. */
export function pictureSentences(
  name: RoomPictureName,
  rows: readonly RoundRow[],
  round: number,
  items: number,
): string[] {
  switch (name) {
    case 'times':
      return compareSentences(rows, round)
    case 'errors':
      return errorSentences(rows)
    case 'scatter':
      return qualitySentences(rows, round, items)
    case 'spread':
      return spreadSentences(rows)
    case 'curve':
      return curveSentences(rows)
  }
}
