import { useMemo } from 'react'
import {
  TALKING_POINTS,
  type TalkingPoint,
  talkingPointAt,
} from '../../../domain/workshop/talking-points.ts'
import { useConsole } from './use-console.ts'

interface Talk {
  readonly point: TalkingPoint
  /** Its place among `count` points of the moment, from 0. */
  readonly at: number
  readonly count: number
  /** Goes on, or back, by so many points. */
  readonly turn: (by: number) => void
}

/** The talking point of the moment, and the way to the others. */
export function useTalk(): Talk {
  const { state, act } = useConsole()
  const { moment, talkingPoint } = state.room
  const points = TALKING_POINTS[moment]
  const at = talkingPoint % points.length
  const turn = useMemo(
    () => (by: number) => {
      const index = (at + by + points.length) % points.length
      void act(
        { kind: 'talking-point', index },
        {
          text: `Talking point: ${points[index]!.title}.`,
          moves: () => [{ kind: 'talking-point', index: talkingPoint }],
        },
      )
    },
    [act, at, points, talkingPoint],
  )
  return { point: talkingPointAt(moment, talkingPoint), at, count: points.length, turn }
}
