import type { DecisionKind } from '../../domain/record.ts'

/** One round of one table, as the class would tell it. Everything is invented. */
export interface RoundStory {
  readonly strategy: string
  /** Seconds: expected, from, to. */
  readonly time: Range
  /** Items right of twelve: expected, from, to. */
  readonly right: Range
  readonly why: string
  /** One time for each phone that timed it. */
  readonly seconds: readonly number[]
  /** Where the timers disagree: which is kept, and why. */
  readonly kept?: readonly [reading: number, why: string]
  /** For each inspector the items that were wrong, counted from 1. */
  readonly wrong: readonly (readonly number[])[]
  readonly decision: DecisionKind
  readonly learned: string
  readonly next: string
}

type Range = readonly [expected: number, low: number, high: number]

export interface ClassTable {
  readonly name: string
  /** First names or roles of its phones, and how sure each was, 0–10, before and after. */
  readonly seats: readonly (readonly [name: string, before: number, after: number])[]
  readonly rounds: readonly RoundStory[]
}

/** Four tables, four rounds: too sure at first, less wrong and then narrower later on. */
export const CLASS_TABLES: readonly ClassTable[] = [
  {
    name: 'Heron',
    seats: [
      ['Timer', 4, 7],
      ['Second timer', 5, 7],
      ['Inspector', 3, 6],
      ['Recorder', 6, 7],
    ],
    rounds: [
      {
        strategy: 'Everybody takes what is nearest and lays it where the card says.',
        time: [75, 60, 90],
        right: [12, 11, 12],
        why: 'Twelve things, six seconds each.',
        seconds: [128.2, 127.6],
        wrong: [
          [3, 6, 9],
          [6, 9],
        ],
        decision: 'adapt',
        learned: 'Four hands cross over one tray. Two of us read the card at the same time.',
        next: 'One reads the card aloud, the others lay.',
      },
      {
        strategy: 'One reads the card aloud, row by row; two lay; one hands over.',
        time: [95, 80, 115],
        right: [11, 10, 12],
        why: 'Nobody has to look up, but the reader sets the pace.',
        seconds: [96.4, 95.9],
        wrong: [[6], [6]],
        decision: 'adapt',
        learned: 'The search in the box is what takes long now.',
        next: 'The one who hands over keeps the box.',
      },
      {
        strategy: 'As before; whoever hands over tips the box out and sorts as we go.',
        time: [75, 62, 90],
        right: [12, 11, 12],
        why: 'Half of round 2 went into searching.',
        seconds: [71.3, 72.1],
        wrong: [[], []],
        decision: 'adapt',
        learned: 'It holds. The reader waits for the layers now.',
        next: 'Two rows at once, one for each layer.',
      },
      {
        strategy: 'Reader calls two places at once; each layer keeps to a side.',
        time: [64, 55, 74],
        right: [12, 11, 12],
        why: 'The tray allows two hands if they do not cross.',
        seconds: [64.8, 64.2],
        wrong: [[], [9]],
        decision: 'adopt',
        learned: 'Two sides work. We would keep this and try it with new people.',
        next: '',
      },
    ],
  },
  {
    name: 'Curlew',
    seats: [
      ['Timer', 7, 6],
      ['Inspector', 5, 7],
      ['Recorder', 4, 5],
    ],
    rounds: [
      {
        strategy: 'We look at the card for a moment, then all lay from memory.',
        time: [90, 75, 110],
        right: [12, 11, 12],
        why: 'It is only twelve things.',
        seconds: [156.4],
        wrong: [[2, 5, 8, 11]],
        decision: 'abandon',
        learned: 'From memory does not work: we went back to the card five times.',
        next: 'Keep the card beside the tray.',
      },
      {
        strategy: 'The card lies beside the tray; each of us takes a row.',
        time: [110, 90, 130],
        right: [11, 9, 12],
        why: 'A row each means that nobody waits.',
        seconds: [118.1],
        wrong: [[5, 8]],
        decision: 'adapt',
        learned: 'The rows are not equal: the first has five things, the last has one.',
        next: 'Share the things, not the rows.',
      },
      {
        strategy: 'Each takes four things, whatever row they are in.',
        time: [90, 78, 102],
        right: [11, 10, 12],
        why: 'Nobody is left with nothing to do.',
        seconds: [121.7],
        wrong: [[8]],
        decision: 'abandon',
        learned: 'Slower: we reached across each other. Equal shares are not the point.',
        next: 'Rows again, and the one with the last row helps with the first.',
      },
      {
        strategy: 'Rows again; whoever is done first helps with the first row.',
        time: [100, 82, 120],
        right: [12, 10, 12],
        why: 'Round 2 without the wait.',
        seconds: [88.9],
        wrong: [[]],
        decision: 'adopt',
        learned: 'Helping out brought more than sharing out.',
        next: '',
      },
    ],
  },
  {
    name: 'Plover',
    seats: [
      ['Timer', 6, 8],
      ['Inspector', 6, 7],
      ['Second inspector', 2, 6],
    ],
    rounds: [
      {
        strategy: 'As fast as we can; we check at the end if there is time.',
        time: [80, 65, 95],
        right: [11, 10, 12],
        why: 'The clock counts most.',
        seconds: [92.5],
        wrong: [
          [2, 4, 6, 9, 11],
          [2, 6, 9, 11],
        ],
        decision: 'adapt',
        learned: 'Nearly as fast as we said, and five things wrong. Fast is not done.',
        next: 'One of us only checks.',
      },
      {
        strategy: 'Two lay; the third checks each thing as it is laid.',
        time: [95, 80, 110],
        right: [11, 10, 12],
        why: 'A check costs a second for each thing.',
        seconds: [101.2],
        wrong: [[9], [9]],
        decision: 'adapt',
        learned: 'The check found three mistakes while they were easy to put right.',
        next: 'The checker also counts the tissues.',
      },
      {
        strategy: 'As before; the checker counts the tissues first.',
        time: [95, 84, 108],
        right: [12, 11, 12],
        why: 'Only the tissues were wrong.',
        seconds: [89.6],
        wrong: [[], []],
        decision: 'adapt',
        learned: 'Right and faster: less is done twice.',
        next: 'The checker reads the next place aloud.',
      },
      {
        strategy: 'The checker reads the next place aloud while looking at the last one.',
        time: [80, 70, 92],
        right: [12, 11, 12],
        why: 'Nobody looks at the card any more.',
        seconds: [75.4],
        wrong: [[], []],
        decision: 'adopt',
        learned: 'The check makes it faster, not slower. None of us believed that before.',
        next: '',
      },
    ],
  },
  {
    name: 'Samphire',
    seats: [
      ['Timer', 5, 8],
      ['Second timer', 4, 7],
      ['Inspector', 7, 8],
    ],
    rounds: [
      {
        strategy: 'One lays and two hand over; the card hangs on the wall.',
        time: [100, 80, 120],
        right: [11, 9, 12],
        why: 'One pair of hands makes no muddle.',
        seconds: [141.3, 142.2],
        wrong: [[6, 8]],
        decision: 'adapt',
        learned: 'No muddle, but one of us always waits, and the wall is too far away.',
        next: 'The card on the table, turned to whoever lays.',
      },
      {
        strategy: 'The card on the table, turned to the one who lays.',
        time: [115, 95, 135],
        right: [11, 10, 12],
        why: 'The wall cost a second for each look.',
        seconds: [109.2, 113.9],
        kept: [0, 'The second phone was stopped late: it lay under the towel.'],
        wrong: [[8]],
        decision: 'adapt',
        learned: 'The way to the card was worth half a minute.',
        next: 'Those who hand over put the things in the order of the card first.',
      },
      {
        strategy: 'Those who hand over put the things in the order of the card as they go.',
        time: [90, 78, 104],
        right: [12, 11, 12],
        why: 'Whoever lays never waits.',
        seconds: [92.4, 91.8],
        wrong: [[8]],
        decision: 'adapt',
        learned: 'The order works. The tweezers went wrong three times: tips at the bottom.',
        next: 'Say “tips down” when the tweezers come.',
      },
      {
        strategy: 'As before, and we say aloud how the tweezers lie.',
        time: [88, 78, 99],
        right: [12, 11, 12],
        why: 'Nothing else has changed.',
        seconds: [84.6, 85.3],
        wrong: [[]],
        decision: 'adopt',
        learned: 'Saying the one thing that always goes wrong is enough.',
        next: '',
      },
    ],
  },
]
