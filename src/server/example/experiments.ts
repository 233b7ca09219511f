import { type Calendar, moment } from './calendar.ts'
import type { ExperimentStory } from './story.ts'

/** A finished one: three changes to laying the tray, every combination twice. All of it is invented. */
export function trayExperiment({ ago }: Pick<Calendar, 'ago'>): ExperimentStory {
  return {
    plan: {
      title: 'Three changes to laying the tray',
      question: 'Which of these changes make the tray faster, and do they depend on each other?',
      response: 'the time to lay the tray',
      responseKind: 'duration',
      better: 'down',
      conditions:
        'The same team of four, the same tray of twelve items, the same table. A wrong item is put right before the clock stops',
      generators: '',
      replicates: 2,
      guessedSd: 6,
      determination: 'exercise',
      couldHarm: 'no',
    },
    measure: 'time',
    madeOn: ago(10),
    factors: [
      {
        name: 'Box',
        low: 'as it comes',
        high: 'sorted by the list',
        expected: -30,
        why: 'Searching took a third of the time in the rounds.',
      },
      {
        name: 'List',
        low: 'hangs on the wall',
        high: 'read aloud',
        expected: -15,
        why: 'Looking up and down costs a second for each item.',
      },
      {
        name: 'Hands',
        low: 'one person lays',
        high: 'two people lay',
        expected: -20,
        why: 'Two pairs of hands should need less time than one.',
      },
    ],
    locked: { at: moment(ago(9), '08:50'), by: 6, seed: 1926 },
    runs: {
      first: moment(ago(9), '09:05'),
      minutesApart: 8,
      done: 16,
      responses: {
        '---': [139, 146],
        '+--': [99, 103],
        '-+-': [121, 128],
        '++-': [104, 98],
        '--+': [144, 138],
        '+-+': [97, 102],
        '-++': [126, 119],
        '+++': [101, 105],
      },
    },
    learned:
      'Sort the box first. Once it is sorted, reading aloud gains nothing more, so the fourth person is free. Two people laying did not help: they reach for the same item.',
  }
}

/** One that runs: four changes to writing up a triage, half of the combinations, three runs to go. */
export function triageExperiment({ ago }: Pick<Calendar, 'ago'>): ExperimentStory {
  return {
    plan: {
      title: 'Four changes to writing up a triage',
      question: 'Which of these changes shorten the write-up enough to try them at the door?',
      response: 'the time to write up one case',
      responseKind: 'duration',
      better: 'down',
      conditions:
        'Practice cases on paper, no patients; one nurse, the quiet room, after the round',
      generators: 'D=ABC',
      guessedSd: 12,
      determination: 'exercise',
      couldHarm: 'no',
    },
    madeOn: ago(6),
    factors: [
      {
        name: 'Form',
        low: 'free text',
        high: 'boxes to tick',
        expected: -40,
        why: 'Most of what is written is one of ten sentences.',
      },
      {
        name: 'Vital signs',
        low: 'typed',
        high: 'sent by the monitor',
        expected: -20,
        why: 'Five numbers, four seconds each.',
      },
      {
        name: 'Place',
        low: 'at the desk',
        high: 'at the trolley',
        expected: 0,
        why: 'It saves a walk, and the screen is smaller.',
      },
      {
        name: 'Writer',
        low: 'the nurse',
        high: 'a clerk beside the nurse',
        expected: -15,
        why: 'The clerk types faster, but has to ask.',
      },
    ],
    locked: { at: moment(ago(4), '13:10'), by: 3, seed: 1935 },
    runs: {
      first: moment(ago(4), '13:30'),
      minutesApart: 15,
      done: 5,
      responses: {
        '----': [182],
        '+--+': [121],
        '-+-+': [149],
        '++--': [112],
        '--++': [171],
        '+-+-': [139],
        '-++-': [166],
        '++++': [98],
      },
    },
    learned: '',
  }
}
