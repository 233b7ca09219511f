import type { Kit } from '../kit.ts'
import { threeSteps } from './three-steps.ts'

const checklist = [
  'The pile in A1 holds thirteen hearts and nothing else.',
  'From bottom to top the hearts run ace, two, three and so on to the king.',
  'Every heart lies face up.',
  'The pile in B1 holds thirteen spades and nothing else.',
  'From bottom to top the spades run king, queen, jack and so on to the ace.',
  'Every spade lies face up.',
  'The pile in C1 holds the nine diamonds from two to ten, face down.',
  'The pile in D1 holds the nine clubs from two to ten, face down.',
  'The ace, jack, queen and king of diamonds lie across A2 and B2 so that each can be read.',
  'The ace, jack, queen and king of clubs lie across C2 and D2 so that each can be read.',
  'No card lies outside its place on the card sheet.',
]

/** A shuffled deck is sorted into six places, each with a rule of its own. */
export const deckToARule: Kit = {
  name: 'Deck to a rule',
  summary: 'A table sorts a shuffled deck of playing cards into six places by a printed rule.',
  bring: [
    'One deck of 52 playing cards without jokers, large print if you have it',
    'A printed card sheet to sort on',
    'A second deck in reserve, since a lost playing card spoils a round',
  ],
  task: [
    'The deck begins as one shuffled pile, face down, in the middle of the table.',
    'Put every playing card where the rule wants it: hearts rising in A1, spades falling in B1.',
    'Diamonds and clubs from two to ten go face down in C1 and D1, in any order.',
    'The remaining diamonds and clubs lie side by side in row 2.',
    'The table calls “sorted” when the last one lies in its place.',
  ],
  clockStarts: 'The clock starts when the first playing card leaves the shuffled pile.',
  clockStops: 'The clock stops at the call “sorted”, when nobody touches a playing card any more.',
  card: {
    columns: 4,
    rows: 2,
    places: [
      { label: 'Hearts, ace to king', column: 0, row: 0, columns: 1, rows: 1, shape: 'stack' },
      { label: 'Spades, king to ace', column: 1, row: 0, columns: 1, rows: 1, shape: 'stack' },
      { label: 'Diamonds 2–10', column: 2, row: 0, columns: 1, rows: 1, shape: 'stack' },
      { label: 'Clubs 2–10', column: 3, row: 0, columns: 1, rows: 1, shape: 'stack' },
      { label: 'Diamonds A J Q K', column: 0, row: 1, columns: 2, rows: 1, shape: 'box' },
      { label: 'Clubs A J Q K', column: 2, row: 1, columns: 2, rows: 1, shape: 'box' },
    ],
    note: 'A1 and B1 face up, counted from the bottom; C1 and D1 face down.',
  },
  checklist,
  score: threeSteps(checklist.length),
  prompts: [
    'Do you split the deck among you first, or does one person deal?',
    'Which of the six places takes longest, and who works on it?',
    'How do two people put one suit in order without waiting for each other?',
    'Where would a mistake hide, and who looks there before you call?',
  ],
  hints: [
    'Shuffle at least seven times between rounds, or swap decks with another table.',
    'Count 52 before the first round; a missing playing card shows up as a wrong item.',
    'Large-print decks help many eyes. Where colours are hard to tell, choose a deck with four colours of suit.',
    'All places can be reached from chairs; turn the sheet so that nobody has to lean over.',
    'A person who cannot hold playing cards can call where each one goes and check the piles.',
    'Parallel work helps until two people need the same suit. Let a table find that out from its own times.',
  ],
  variations: [
    'Change which suit rises and which falls before round three.',
    'Allow talking in one round and not in the next.',
    'Use half a deck, two to eight of each suit, where time is short, with a rule sheet of your own.',
  ],
}
