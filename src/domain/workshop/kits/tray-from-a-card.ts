import type { Kit } from '../kit.ts'
import { threeSteps } from './three-steps.ts'

const checklist = [
  'The towel lies across A1 and B1, folded once, with its fold to the left.',
  'The large cup stands mouth up in C1.',
  'The small cup stands mouth down in D1.',
  'The roll of tape lies flat in E1.',
  'The pair of gloves lies in F1, one glove tucked into the other.',
  'The spoon lies in A2 and A3 with its bowl at the top.',
  'The wooden stirrer lies in B2 and B3.',
  'The plastic tweezers lie in C2 and C3 with their tips at the bottom.',
  'Exactly five paper tissues are piled across D2 and E2.',
  'The clothes peg lies in F2, closed.',
  'The paper arrow lies across D3 to F3 and points to the right.',
  'The ruler lies along row 4 from B4 to E4 with its printed side up.',
]

/** Twelve dummy instruments go from a heap to their places on a tray. */
export const trayFromACard: Kit = {
  name: 'Tray from a card',
  summary: 'A table lays out twelve dummy instruments on a tray as a card shows them.',
  bring: [
    'One tray, or a sheet of paper at least 40 cm wide, ruled in six columns and four rows',
    'One hand towel, one large and one small paper cup, one roll of paper tape',
    'One pair of household gloves, one clothes peg, one 30 cm ruler, one paper arrow',
    'One plastic spoon, one wooden stirrer, one pair of blunt plastic tweezers',
    'A pack of paper tissues',
    'A box without compartments that takes all of it',
    'The card, printed once for each table',
  ],
  task: [
    'All twelve things begin mixed in the closed box, and the tray begins empty.',
    'Lay them out on the tray exactly as the card shows.',
    'Anybody at the table may touch anything, and the card may lie where you like.',
    'Say “done” when you think that the tray is right; nothing is moved after that.',
  ],
  clockStarts: 'The clock starts when a hand first touches the closed box.',
  clockStops: 'The clock stops at the word “done”, with all hands off the tray.',
  card: {
    columns: 6,
    rows: 4,
    places: [
      { label: 'Towel', column: 0, row: 0, columns: 2, rows: 1, shape: 'fold' },
      { label: 'Large cup', column: 2, row: 0, columns: 1, rows: 1, shape: 'round' },
      { label: 'Small cup', column: 3, row: 0, columns: 1, rows: 1, shape: 'round' },
      { label: 'Tape', column: 4, row: 0, columns: 1, rows: 1, shape: 'round' },
      { label: 'Gloves', column: 5, row: 0, columns: 1, rows: 1, shape: 'fold' },
      { label: 'Spoon', column: 0, row: 1, columns: 1, rows: 2, shape: 'slim' },
      { label: 'Stirrer', column: 1, row: 1, columns: 1, rows: 2, shape: 'slim' },
      { label: 'Tweezers', column: 2, row: 1, columns: 1, rows: 2, shape: 'slim' },
      { label: '5 tissues', column: 3, row: 1, columns: 2, rows: 1, shape: 'stack' },
      { label: 'Peg', column: 5, row: 1, columns: 1, rows: 1, shape: 'box' },
      { label: 'Arrow', column: 3, row: 2, columns: 3, rows: 1, shape: 'arrow' },
      { label: 'Ruler', column: 1, row: 3, columns: 4, rows: 1, shape: 'slim' },
    ],
    note: 'Large cup mouth up, small cup mouth down, spoon with its bowl at the top, tweezers with their tips at the bottom.',
  },
  checklist,
  score: threeSteps(checklist.length),
  prompts: [
    'Who touches what, and in which order?',
    'Where does the card lie, and who reads it aloud?',
    'What could be ready before the clock starts without breaking the task?',
    'Which item went wrong last time, and what would make that unlikely?',
    'How will you know that you are done before you say so?',
  ],
  hints: [
    'Use dummies only: no blades, needles or glass. This practises testing a change, not the handling of instruments; local policy rules that.',
    'Mix the box yourself between rounds, or give that to a neighbouring table, so that its order helps nobody.',
    'A seated table works well: keep the box and the tray within reach of every chair.',
    'For somebody who cannot grip small things, take a larger peg and a thicker stirrer, and keep them for all rounds.',
    'Read the card aloud once for people who cannot see it well; a print at twice the size is fair too.',
    'Most tables sort the box first in the second round. Ask what they predicted that would bring.',
  ],
  variations: [
    'Change the card after the second round without a warning and watch the predictions.',
    'Let one person read the card behind a screen while the others lay out.',
    'Swap two neighbours who have never worked together before the last round.',
  ],
}
