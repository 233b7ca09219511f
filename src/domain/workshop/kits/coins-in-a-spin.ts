import type { Kit } from '../kit.ts'
import { threeSteps } from './three-steps.ts'

const checklist = [
  'The coin of square A1 spun on its edge for three counts of the inspector.',
  'The coin of square B1 spun on its edge for three counts of the inspector.',
  'The coin of square C1 spun on its edge for three counts of the inspector.',
  'The coin of square A2 spun on its edge for three counts of the inspector.',
  'The coin of square B2 spun on its edge for three counts of the inspector.',
  'The coin of square C2 spun on its edge for three counts of the inspector.',
  'At the end every square holds exactly one coin that touches none of its lines.',
  'At the end all six coins lie with the same side up.',
  'No coin fell off the table during the round.',
]

/** Six coins are spun on six squares; luck and skill are mixed on purpose. */
export const coinsInASpin: Kit = {
  name: 'Coins in a spin',
  summary: 'A table spins six coins, one for each square of a card, and leaves them in order.',
  bring: [
    'Six coins of one size for each table, or large plain washers with one side marked',
    'One printed card with six squares, each at least 6 cm wide, on a smooth table',
    'A folded cloth as a rim, so that coins stay on the table',
  ],
  task: [
    'The six coins begin in one pile beside the card.',
    'For each square, spin a coin on its edge until the inspector has counted “one, two, three” aloud.',
    'A coin that falls sooner may be spun again, as often as you like.',
    'In the end one coin lies in each square, all with the same side up; coins may be turned by hand.',
    'Put both hands flat on the table when you have finished.',
  ],
  clockStarts: 'The clock starts when a finger first touches the pile of coins.',
  clockStops: 'The clock stops when every player’s hands lie flat on the table.',
  card: {
    columns: 3,
    rows: 2,
    places: [
      { label: 'Coin 1', column: 0, row: 0, columns: 1, rows: 1, shape: 'round' },
      { label: 'Coin 2', column: 1, row: 0, columns: 1, rows: 1, shape: 'round' },
      { label: 'Coin 3', column: 2, row: 0, columns: 1, rows: 1, shape: 'round' },
      { label: 'Coin 4', column: 0, row: 1, columns: 1, rows: 1, shape: 'round' },
      { label: 'Coin 5', column: 1, row: 1, columns: 1, rows: 1, shape: 'round' },
      { label: 'Coin 6', column: 2, row: 1, columns: 1, rows: 1, shape: 'round' },
    ],
    note: 'One coin in each square, touching no line, all with the same side up.',
  },
  checklist,
  score: threeSteps(checklist.length),
  prompts: [
    'Who spins best, and how do you know?',
    'One coin after another, or several at once with several counts?',
    'What do you do with a coin that falls early?',
    'How wide must your range be when luck has a say?',
  ],
  hints: [
    'Coins on the floor make people slip: pick them up at once.',
    'Say before the first round how fast the inspector counts; about one count a second.',
    'Seated players do as well as standing ones; put the card near the edge.',
    'For fingers that cannot spin a coin, a coin rolled on its edge against the rim counts, in all rounds.',
    'A felt mark on one side helps those who cannot tell the sides apart.',
    'This kit varies more than the others by chance alone. Use it to talk about ranges, and about one good round that proves little.',
  ],
  variations: [
    'Change the surface, paper to cloth, after round two.',
    'Take five counts in place of three.',
    'Let each person spin with the other hand and predict that first.',
  ],
}
