/**
 * What a picture is made of: four kinds of shape, each with a role. A painter needs nothing else,
 * so the screen and a file cannot drift apart.
 */

/** What a mark means; `paint-roles.ts` says how each is drawn. */
export type MarkRole =
  | 'grid'
  | 'rail'
  | 'tick'
  | 'tick-text'
  | 'title'
  | 'subtitle'
  | 'phase-border'
  | 'phase-text'
  | 'center'
  | 'limit'
  | 'catch'
  | 'line'
  | 'point'
  | 'point-left-out'
  | 'ring'
  | 'letter'
  | 'bracket'
  | 'bracket-text'
  | 'outcome'
  | 'goal'
  | 'goal-text'
  | 'note-line'
  | 'note-text'
  | 'tooth-full'
  | 'tooth-outline'
  | 'tooth-dotted'
  | 'tooth-planned'
  | 'notch'
  | 'tooth-text'
  | 'fan'
  | 'fan-none'
  | 'fan-tick'
  | 'fan-text'
  | 'link'
  | 'dead-end'
  | 'band'
  | 'projection'
  | 'projection-edge'
  | 'span'
  | 'card-frame'
  | 'thing'
  | 'thing-line'
  | 'thing-text'

interface PathMark {
  readonly shape: 'path'
  readonly role: MarkRole
  readonly d: string
}

export interface CircleMark {
  readonly shape: 'circle'
  readonly role: MarkRole
  readonly cx: number
  readonly cy: number
  readonly r: number
}

export interface TextMark {
  readonly shape: 'text'
  readonly role: MarkRole
  /** Baseline start, middle or end, by `anchor`. */
  readonly x: number
  readonly y: number
  readonly anchor: 'start' | 'middle' | 'end'
  /** Font size in pixels. */
  readonly size: number
  readonly text: string
}

export type Mark = PathMark | CircleMark | TextMark

/** Axis-parallel rectangle in pixels, `y` downwards. */
export interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** A picture in pixels: everything lies inside 0–width, 0–height. */
export interface Picture {
  readonly width: number
  readonly height: number
  /** Length of one design pixel; stroke widths are multiples of it. 1 at 14 px text. */
  readonly unit: number
  /** In painting order. */
  readonly marks: readonly Mark[]
}
