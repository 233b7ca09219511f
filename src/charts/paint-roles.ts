import type { MarkRole } from './marks.ts'
import type { ColorRole } from './theme.ts'

/** How marks of one role are drawn. Lengths are in units of the picture. */
export interface RolePaint {
  readonly fill: ColorRole | null
  readonly stroke: ColorRole | null
  readonly strokeWidth: number
  /** Dash and gap. */
  readonly dash: readonly [number, number] | null
  readonly bold: boolean
  /** Round ends and joins; otherwise square. */
  readonly round: boolean
  /** The stroke is a halo behind the fill, so that text stays readable on lines. */
  readonly halo: boolean
}

const base: RolePaint = {
  fill: null,
  stroke: null,
  strokeWidth: 0,
  dash: null,
  bold: false,
  round: false,
  halo: false,
}
const stroke = (color: ColorRole, strokeWidth: number, more: Partial<RolePaint> = {}) => ({
  ...base,
  stroke: color,
  strokeWidth,
  ...more,
})
const fill = (color: ColorRole, more: Partial<RolePaint> = {}) => ({
  ...base,
  fill: color,
  ...more,
})
const haloed = (color: ColorRole, bold = false) =>
  fill(color, { stroke: 'paper', strokeWidth: 4, halo: true, round: true, bold })

/** One row a role: the whole look of every picture, for the screen and for files alike. */
export const ROLE_PAINT: Readonly<Record<MarkRole, RolePaint>> = {
  grid: stroke('line', 1),
  rail: stroke('ink', 2),
  tick: stroke('soft', 1.25),
  'tick-text': fill('soft'),
  title: fill('ink', { bold: true }),
  subtitle: fill('soft'),
  'phase-border': stroke('stone', 1),
  'phase-text': haloed('ink'),
  center: stroke('pine', 2.5),
  limit: stroke('stone', 1.5, { dash: [4, 4] }),
  catch: stroke('stone', 2, { round: true }),
  line: stroke('ink', 1.75, { round: true }),
  point: fill('ink'),
  'point-left-out': { ...base, fill: 'paper', stroke: 'ink', strokeWidth: 1.5 },
  ring: stroke('plum', 2),
  letter: haloed('plum', true),
  bracket: stroke('marigold', 3),
  'bracket-text': haloed('ink'),
  outcome: { ...base, fill: 'ink', stroke: 'paper', strokeWidth: 2 },
  goal: stroke('ink', 2, { round: true }),
  'goal-text': fill('ink'),
  'note-line': stroke('stone', 1, { dash: [1, 3] }),
  'note-text': haloed('soft'),
  'tooth-full': { ...base, fill: 'pine', stroke: 'pine', strokeWidth: 2, round: true },
  'tooth-outline': { ...base, fill: 'paper', stroke: 'pine', strokeWidth: 2.25, round: true },
  'tooth-dotted': stroke('pine', 2.25, { dash: [2.5, 3] }),
  'tooth-planned': stroke('stone', 1.5, { dash: [1.5, 3] }),
  notch: { ...base, fill: 'ink', stroke: 'ink', strokeWidth: 1, round: true },
  'tooth-text': fill('ink'),
  fan: stroke('marigold', 2, { round: true }),
  'fan-none': stroke('stone', 1.5, { dash: [6, 3] }),
  'fan-tick': stroke('ink', 1.5, { dash: [2, 3] }),
  'fan-text': haloed('ink'),
  link: stroke('soft', 1.5),
  'dead-end': stroke('ink', 2, { round: true }),
  band: fill('wash'),
  projection: stroke('soft', 2.25, { dash: [8, 5] }),
  'projection-edge': stroke('stone', 1.25, { dash: [1.5, 3] }),
  span: stroke('ink', 2.5),
  'card-frame': stroke('ink', 2.5),
  thing: { ...base, fill: 'wash', stroke: 'ink', strokeWidth: 1.75, round: true },
  'thing-line': stroke('ink', 1.25, { round: true }),
  'thing-text': fill('ink'),
}
