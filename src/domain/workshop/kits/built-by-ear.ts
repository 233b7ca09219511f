import type { Kit } from '../kit.ts'
import { threeSteps } from './three-steps.ts'

const checklist = [
  'A long block lies on the table from A4 to C4.',
  'A cube stands on the table in D4.',
  'A cube stands on the table in F4, and E4 is empty.',
  'In A3 a cube stands on the long block.',
  'In B3 a roller stands upright on the long block, and C3 is empty.',
  'A long block bridges the gap from D3 to F3.',
  'A flat block lies from A2 to B2, on the cube and the roller.',
  'A roller stands upright on the bridge in D2.',
  'A cube stands on the bridge in F2, and E2 is empty.',
  'In A1 a cube stands at the left end of the flat block.',
  'The pointer stands in D1 and points to the right as the builder sees it.',
  'No block is left over, and the whole stands by itself for a slow count of five.',
]

/** One person sees the picture, the others build it from words alone. */
export const builtByEar: Kit = {
  name: 'Built by ear',
  summary: 'A table builds what only one of them can see, from spoken instructions alone.',
  bring: [
    'Plain blocks, cartons or sponges: five cubes, two long ones, one flat one',
    'Two rollers that stand upright, such as cardboard tubes',
    'One folded paper pointer',
    'A screen of stiff card, about 40 cm high',
    'One layout card, which only the speaker sees',
  ],
  task: [
    'The speaker sits behind the screen with the card; the blocks lie in a heap before the builders.',
    'Nobody but the speaker sees the card, and the speaker does not see the building.',
    'Build what the card shows, seen from the front; only words go across, in both directions.',
    'The speaker ends the round with the word “built”, which counts even if something is wrong.',
  ],
  clockStarts: 'The clock starts when the speaker turns over the card.',
  clockStops: 'The clock stops when the speaker has said “built” and no hand is on a block.',
  card: {
    columns: 6,
    rows: 4,
    places: [
      { label: 'Cube', column: 0, row: 0, columns: 1, rows: 1, shape: 'box' },
      { label: 'Pointer', column: 3, row: 0, columns: 1, rows: 1, shape: 'arrow' },
      { label: 'Flat block', column: 0, row: 1, columns: 2, rows: 1, shape: 'slim' },
      { label: 'Roller', column: 3, row: 1, columns: 1, rows: 1, shape: 'round' },
      { label: 'Cube', column: 5, row: 1, columns: 1, rows: 1, shape: 'box' },
      { label: 'Cube', column: 0, row: 2, columns: 1, rows: 1, shape: 'box' },
      { label: 'Roller', column: 1, row: 2, columns: 1, rows: 1, shape: 'round' },
      { label: 'Long block', column: 3, row: 2, columns: 3, rows: 1, shape: 'box' },
      { label: 'Long block', column: 0, row: 3, columns: 3, rows: 1, shape: 'box' },
      { label: 'Cube', column: 3, row: 3, columns: 1, rows: 1, shape: 'box' },
      { label: 'Cube', column: 5, row: 3, columns: 1, rows: 1, shape: 'box' },
    ],
    note: 'Seen from the front, standing on the table. Rollers stand upright; the pointer points to the right.',
  },
  checklist,
  score: threeSteps(checklist.length),
  prompts: [
    'Which words do you use for each block and each place?',
    'Do the builders repeat what they heard before they act?',
    'In which order is the building described: from below, from the left, by block?',
    'How does the speaker learn that something is misunderstood?',
    'Who may speak, and when?',
  ],
  hints: [
    'Choose light blocks: a fall should neither hurt nor make a bang.',
    'Everybody sits in this task; leave room beside the table for a wheelchair.',
    'For people who hear little, put the speaker’s words in writing, one line at a time, and keep that for all rounds.',
    'A speaker who cannot see the card well gets a larger print or trades places.',
    'Talk afterwards about reading back and about handing over, where the words come from another room too.',
    'Turn the card by half a turn for a table that knows it by heart by round three.',
  ],
  variations: [
    'In one round the builders may not ask anything; compare what was predicted with what came.',
    'Change the speaker each round and see whose words stay.',
    'Make the card a list of words in place of a picture.',
  ],
}
