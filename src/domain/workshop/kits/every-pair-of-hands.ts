import type { Kit } from '../kit.ts'
import { threeSteps } from './three-steps.ts'

const checklist = [
  'Ball A visited all six seats in the order of the card.',
  'Ball B visited all six seats in the order of the card.',
  'Ball C visited all six seats in the order of the card.',
  'At every seat a ball was touched by two hands before it went on.',
  'Each seat said its number aloud each time a ball came.',
  'No ball touched the floor or lay on the table between the bowls.',
  'All three balls lie in the finish bowl.',
  'The balls came into the finish bowl as A, then B, then C.',
]

/** Three soft balls travel through six seats in an order that jumps about. */
export const everyPairOfHands: Kit = {
  name: 'Every pair of hands',
  summary: 'Three soft balls travel through every pair of hands at the table in a set order.',
  bring: [
    'Three soft balls, or balls of paper, marked A, B and C',
    'Two bowls, one marked “start” and one marked “finish”',
    'Six numbered slips, one to lie before each seat',
    'One copy of the order to lie in the middle',
  ],
  task: [
    'The numbered slips lie round the table as the picture shows, and the balls lie in the start bowl.',
    'Every ball visits the seats in the order 1, 4, 2, 6, 3, 5 and then goes into the finish bowl.',
    'Whoever has a ball touches it with both hands and says the number of the seat.',
    'Ball A goes first, then B, then C; several may be on their way at once.',
    'With fewer than six people, some look after two seats; the order stays.',
  ],
  clockStarts: 'The clock starts when ball A leaves the start bowl.',
  clockStops: 'The clock stops when the last of the three balls lies still in the finish bowl.',
  card: {
    columns: 7,
    rows: 4,
    places: [
      { label: 'Seat 1', column: 1, row: 0, columns: 1, rows: 1, shape: 'round' },
      { label: 'Seat 2', column: 3, row: 0, columns: 1, rows: 1, shape: 'round' },
      { label: 'Seat 3', column: 5, row: 0, columns: 1, rows: 1, shape: 'round' },
      { label: 'Start', column: 0, row: 1, columns: 1, rows: 2, shape: 'box' },
      { label: 'Order 1 4 2 6 3 5', column: 2, row: 1, columns: 3, rows: 2, shape: 'arrow' },
      { label: 'Finish', column: 6, row: 1, columns: 1, rows: 2, shape: 'box' },
      { label: 'Seat 6', column: 1, row: 3, columns: 1, rows: 1, shape: 'round' },
      { label: 'Seat 5', column: 3, row: 3, columns: 1, rows: 1, shape: 'round' },
      { label: 'Seat 4', column: 5, row: 3, columns: 1, rows: 1, shape: 'round' },
    ],
    note: 'The slips show where the numbers begin; whether seats may move is for the table to ask.',
  },
  checklist,
  score: threeSteps(checklist.length),
  prompts: [
    'What does the order ask for, and what have you only assumed?',
    'How far does a ball travel between two seats, and what would shorten that?',
    'Does the next ball wait, or follow at once?',
    'What went wrong when a ball was dropped?',
  ],
  hints: [
    'Soft balls only, passed from hand to hand or rolled: nothing is thrown at a face.',
    'Clear cups and bags away, and keep walkways free for anybody with a stick or a wheelchair.',
    'The whole task works from chairs drawn close; let a table choose that for all rounds.',
    'For a person who uses one hand, a touch by palm and forearm counts as two hands, agreed beforehand.',
    'Somebody who does not speak can tap the slip in place of saying the number.',
    'The inspector watches during the run, since nothing is left to see afterwards; two inspectors do better.',
    'Do not answer whether seats may move until somebody asks. It is allowed.',
  ],
  variations: [
    'Announce a new order before round three: 1, 3, 5, 2, 4, 6.',
    'Add a fourth ball and ask for a prediction that allows for it.',
    'Have one seat wear a glove too large for it, as a reminder that people differ.',
  ],
}
