import type { Kit } from '../kit.ts'
import { threeSteps } from './three-steps.ts'

const checklist = [
  'There are three envelopes, and each is made from one whole sheet.',
  'On every envelope the lower fold leaves a flap no wider than two fingers.',
  'The left and right edges of each envelope lie within one finger of each other.',
  'Each envelope has one dot over its left side and one over its right side.',
  'Each flap is shut by one dot in its middle.',
  'Envelope 1 holds the slip that says “Ward”, and nothing else.',
  'Envelope 2 holds the slip that says “Pharmacy”, and nothing else.',
  'Envelope 3 holds the slip that says “Laboratory”, and nothing else.',
  'Every envelope shows its number in the upper left corner of the front.',
  'Every envelope shows, in the middle of the front, the same word as its slip.',
  'Every envelope shows the maker’s initials in the lower right corner of the front.',
  'The three envelopes lie in a row, fronts up, in the order 1, 2, 3.',
]

/** Three sheets become three closed, filled and labelled envelopes. */
export const paperEnvelopes: Kit = {
  name: 'Paper envelopes',
  summary: 'A table folds three envelopes from plain sheets, fills them, closes and labels them.',
  bring: [
    'Three sheets of plain paper a round, A4 or Letter, and some to spare',
    'Nine round sticky dots a round, about 2 cm wide',
    'Three slips a round: “Ward”, “Pharmacy” and “Laboratory”',
    'Two felt pens',
    'The layout card for each table',
  ],
  task: [
    'Sheets, slips, dots and pens begin in four heaps in the middle.',
    'Fold the lower edge of each sheet upwards and leave a flap at the top.',
    'Fix both sides with a dot, put in the right slip, fold the flap down and shut it with a dot.',
    'Write number, word and initials on the front as the card shows.',
    'Lay the three envelopes in a row, and let one person clap when they lie there.',
  ],
  clockStarts: 'The clock starts when somebody lifts the first sheet off its heap.',
  clockStops: 'The clock stops at the clap, with all three envelopes lying in a row.',
  card: {
    columns: 11,
    rows: 5,
    places: [
      { label: 'No.', column: 0, row: 0, columns: 1, rows: 1, shape: 'box' },
      { label: 'Word', column: 1, row: 2, columns: 3, rows: 1, shape: 'box' },
      { label: 'Init.', column: 4, row: 4, columns: 1, rows: 1, shape: 'box' },
      { label: 'Flap', column: 6, row: 0, columns: 5, rows: 1, shape: 'fold' },
      { label: 'Dot', column: 8, row: 1, columns: 1, rows: 1, shape: 'round' },
      { label: 'Dot', column: 6, row: 3, columns: 1, rows: 1, shape: 'round' },
      { label: 'Dot', column: 10, row: 3, columns: 1, rows: 1, shape: 'round' },
    ],
    note: 'Columns A to E are the front of an envelope, columns G to K its back.',
  },
  checklist,
  score: threeSteps(checklist.length),
  prompts: [
    'Does one person make a whole envelope, or does each do one step?',
    'Which step holds up the others?',
    'Is the writing done before or after the folding, and what does that change?',
    'What makes a slip end up in the wrong envelope?',
    'How much work lies half finished at any moment?',
  ],
  hints: [
    'There is nothing to cut, so no scissors or knives are on the table.',
    'Keep used envelopes by round: laid side by side they show what quality did.',
    'Anybody can sit; put the four heaps within reach, or have two sets of heaps.',
    'For hands that find small dots hard, use larger stickers or strips torn off beforehand.',
    'A person who does not write can fold or fill; initials may be any two letters agreed before.',
    'Paper edges can nick a finger: soft, thin paper is kinder than card.',
    'Tables often pass batches along first. Ask what passing one at a time would do, and let them predict it.',
  ],
  variations: [
    'Make five envelopes and add two words of your own.',
    'Let an order arrive in the middle of a round: envelope 2 is wanted first.',
    'Move the pens to another table, so that writing means a walk.',
  ],
}
