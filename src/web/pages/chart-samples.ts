import { drawBracket } from '../../charts/bracket-marks.ts'
import type { Mark, Picture } from '../../charts/marks.ts'
import { type Pen, penOn } from '../../charts/pen.ts'
import type { TestMark } from '../../charts/spec.ts'
import { drawTooth } from '../../charts/tooth-rail.ts'

const TEXT = 14

function picture(width: number, height: number, draw: (pen: Pen) => void): Picture {
  const marks: Mark[] = []
  draw(penOn(marks))
  return { width, height, unit: 1, marks }
}

/** Values from 0 at the bottom to 100 at the top of a sample. */
const scale = (top: number, bottom: number) => (value: number) =>
  bottom - (value / 100) * (bottom - top)

function drawPoints(pen: Pen, values: readonly number[], left: number, step: number) {
  const y = scale(8, 92)
  const x = (i: number) => left + i * step
  pen.path('line', values.map((v, i) => `${i === 0 ? 'M' : 'L'}${x(i)},${y(v)}`).join(''))
  const dots = () => {
    for (const [i, v] of values.entries()) pen.circle('point', x(i), y(v), 4)
  }
  return { x, y, dots }
}

/** A prediction before its outcome, one that held, and one that did not. */
export const bracketSample = picture(300, 124, (pen) => {
  const y = scale(10, 92)
  const bracket = { low: 30, high: 80, expected: 60 }
  const rows = [
    ['locked', 50, null],
    ['inside', 150, 70],
    ['outside', 250, 12],
  ] as const
  for (const [word, x, outcome] of rows) {
    drawBracket(pen, bracket, x, 10, y)
    if (outcome !== null) pen.circle('outcome', x, y(outcome), 6)
    pen.text('tick-text', word, x, 118, TEXT, 'middle')
  }
})

/** The teeth of the rail, each with its word. */
export const toothSample = picture(420, 62, (pen) => {
  const rail = 32
  pen.path('rail', `M0,${rail}H420`)
  const teeth: readonly (readonly [TestMark, string])[] = [
    ['adopt', 'adopted'],
    ['adapt', 'adapted'],
    ['abandon', 'abandoned'],
    ['running', 'running'],
    ['waiting', 'to Study'],
  ]
  teeth.forEach(([mark, word], i) => {
    const x = 14 + i * 84
    drawTooth(pen, mark, { x, width: 56, rail, unit: 1 })
    pen.text('tooth-text', word, x + 28, rail + 26, TEXT, 'middle')
  })
})

/** A run of points above the centre line, ringed and lettered. */
export const signalSample = picture(300, 104, (pen) => {
  const { x, y, dots } = drawPoints(pen, [42, 28, 50, 35, 46, 68, 78, 64, 82, 72, 86], 16, 26)
  pen.path('center', `M4,${y(52)}H296`)
  dots()
  for (let i = 5; i <= 10; i++) pen.circle('ring', x(i), y([68, 78, 64, 82, 72, 86][i - 5]!), 9)
  pen.text('letter', 'a', 290, y(86) + 22, 15, 'middle')
})

/** Two phases: the centre steps, and the first phase's limits are frozen. */
export const phaseSample = picture(300, 104, (pen) => {
  const { y, dots } = drawPoints(pen, [30, 38, 26, 34, 41, 29, 70, 78, 66, 74, 69], 16, 26)
  pen.path('limit', `M4,${y(8)}H159M4,${y(58)}H159M159,${y(48)}H296M159,${y(96)}H296`)
  pen.path('center', `M4,${y(33)}H159V${y(72)}H296`)
  pen.path('catch', `M153,${y(58) - 5}l6,5l-6,5M153,${y(8) - 5}l6,5l-6,5`)
  dots()
})

/** A goal: an arrow at the edge. */
export const goalSample = picture(300, 104, (pen) => {
  const { y, dots } = drawPoints(pen, [30, 42, 38, 52, 47, 60, 55], 16, 30)
  dots()
  pen.path('goal', `M246,${y(80)}h-26l7,-6m-7,6l7,6`)
  pen.text('goal-text', 'goal', 252, y(80) + 5, TEXT)
})
