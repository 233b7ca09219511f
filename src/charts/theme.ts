/** What a colour is for. Shape carries the meaning; colour only helps (DESIGN: palette and type). */
export type ColorRole =
  | 'paper'
  | 'wash'
  | 'line'
  | 'stone'
  | 'soft'
  | 'ink'
  | 'pine'
  | 'marigold'
  | 'plum'

export type Theme = Readonly<Record<ColorRole, string>>

/** Warm paper. `soft` is for secondary text; `line` and `wash` are decoration and carry nothing. */
export const LIGHT: Theme = {
  paper: '#fbfaf6',
  wash: '#f1efe7',
  line: '#d9d7cf',
  stone: '#8b8f89',
  soft: '#4c5653',
  ink: '#14211f',
  pine: '#1d5b4f',
  marigold: '#b5740d',
  plum: '#77305a',
}

/** The same roles on a dark ground. */
export const DARK: Theme = {
  paper: '#121a18',
  wash: '#1c2624',
  line: '#33403c',
  stone: '#838c86',
  soft: '#b4bcb6',
  ink: '#ecebe3',
  pine: '#72c4b0',
  marigold: '#e0a145',
  plum: '#e39bc4',
}

/** Text is drawn in these, so each reaches 4.5:1 on paper and on wash. */
export const TEXT_COLORS: readonly ColorRole[] = ['ink', 'soft', 'pine', 'plum']
/** Marks are drawn in these, so each reaches 3:1 on paper. */
export const MARK_COLORS: readonly ColorRole[] = [
  'ink',
  'soft',
  'pine',
  'stone',
  'marigold',
  'plum',
]
