import { type Calendar, moment } from './calendar.ts'
import { trayExperiment } from './experiments.ts'
import type { ProjectStory, TestStory } from './story.ts'

const ITEMS = 12

interface Round {
  readonly begins: string
  readonly ends: string
  readonly title: string
  readonly change: string
  readonly seconds: { expected: number; low: number; high: number; why: string; was: number }
  readonly right: { expected: number; low: number; high: number; why: string; was: number }
  readonly happened: string
  readonly learned: string
  readonly review: string
  readonly next: string | null
}

// Invented: one team, four rounds of one morning.
const ROUNDS: readonly Round[] = [
  {
    begins: '09:10',
    ends: '09:22',
    title: 'Everybody at once',
    change: 'All four take items from the box and lay them where they remember them.',
    seconds: { expected: 150, low: 120, high: 180, why: 'Twelve items, four people.', was: 194 },
    right: { expected: 11, low: 9, high: 12, why: 'We saw the tray for a whole minute.', was: 8 },
    happened: 'Four hands in one box; two items were laid twice.',
    learned: 'We were in each other’s way, and nobody knew the places for certain.',
    review: 'Wrong on both: slower and with more mistakes than we said.',
    next: 'One person lays, one reads the list aloud, two hand over.',
  },
  {
    begins: '09:25',
    ends: '09:38',
    title: 'One lays, one reads',
    change: 'One person lays, one reads the list aloud, two hand over.',
    seconds: { expected: 140, low: 110, high: 170, why: 'No more collisions.', was: 151 },
    right: { expected: 11, low: 10, high: 12, why: 'The list is read in order.', was: 11 },
    happened: 'It went calmly; the two who hand over looked for things in the box.',
    learned: 'Searching the box is what takes the time now.',
    review: 'Right on both, near the slow end.',
    next: 'Sort the box in the order of the list before the clock starts.',
  },
  {
    begins: '09:41',
    ends: '09:52',
    title: 'The box sorted first',
    change: 'As before, and the box is sorted in the order of the list before the clock starts.',
    seconds: {
      expected: 105,
      low: 85,
      high: 125,
      why: 'Searching took a third of the time.',
      was: 97,
    },
    right: { expected: 12, low: 11, high: 12, why: 'Nothing is left to look for.', was: 12 },
    happened: 'No searching. Everything in its place at the first try.',
    learned: 'Preparing the material does more than hurrying.',
    review: 'Right on both.',
    next: 'Two people only: one hands over, one lays; nobody reads.',
  },
  {
    begins: '09:55',
    ends: '10:06',
    title: 'Two people, nobody reads',
    change: 'With the sorted box one hands over and one lays; nobody reads.',
    seconds: {
      expected: 95,
      low: 80,
      high: 110,
      why: 'The order of the box is the list.',
      was: 88,
    },
    right: { expected: 12, low: 11, high: 12, why: 'The sorted box guides us.', was: 12 },
    happened: 'Two people were enough, and the other two could watch for mistakes.',
    learned: 'Half of the team does it as fast and as well once the box is sorted.',
    review: 'Right on both.',
    next: null,
  },
]

/** A classroom exercise without patients: the same record as on the ward, one test a round. */
export function dressingTray({ ago }: Calendar): ProjectStory {
  const day = ago(12)
  return {
    unit: 'classroom',
    lead: 6,
    name: 'Exercise: the dressing tray',
    aim: 'Lay a tray of twelve items from memory in under 90 seconds with every item in its place, within one morning.',
    begun: day,
    measures: [
      {
        key: 'time',
        name: 'Time to lay the tray',
        role: 'outcome',
        dataKind: 'single',
        valueFormat: 'duration',
        unitLabel: 'minutes',
        per: 1,
        better: 'down',
        operationalDefinition:
          'From "go" until the team says "done". The timer does not take part; inspection comes after.',
        collectionPlan: 'One stopwatch, read aloud once, written down by the recorder.',
        goal: 90,
        chartKind: 'run',
        ruleSet: 'auto',
        observations: [],
      },
      {
        key: 'right',
        name: 'Items in their place',
        role: 'balancing',
        dataKind: 'classified',
        valueFormat: 'number',
        unitLabel: 'items',
        per: 1,
        better: 'up',
        operationalDefinition:
          'Of the twelve items, those in their place and the right way up when the inspector looks.',
        collectionPlan: 'Counted by the inspector against the picture, after "done".',
        goal: 1,
        chartKind: 'run',
        ruleSet: 'auto',
        observations: [],
      },
    ],
    tests: ROUNDS.map((round): TestStory => {
      const { seconds, right } = round
      return {
        plan: {
          title: round.title,
          question: 'How do we lay the tray faster without mistakes?',
          change: round.change,
          who: 'One team of four; a timer, a recorder and an inspector from the next table',
          where: 'Improvement classroom, table 2',
          plannedFrom: day,
          plannedTo: day,
          howMany: 'One round',
          collection: 'Time and items in their place, written on the round’s sheet.',
          determination: 'exercise',
          couldHarm: 'no',
        },
        madeOn: day,
        predictions: [
          { measure: 'time', ...pick(seconds) },
          {
            measure: 'right',
            expected: right.expected / ITEMS,
            low: right.low / ITEMS,
            high: right.high / ITEMS,
            why: right.why,
          },
        ],
        locked: { at: moment(day, round.begins), by: 6 },
        trials: [
          {
            at: moment(day, plusMinutes(round.begins, 4)),
            note: '',
            values: {
              time: { value: seconds.was },
              right: { numerator: right.was, denominator: ITEMS },
            },
          },
        ],
        ran: {
          from: day,
          to: day,
          happened: round.happened,
          doneAt: moment(day, plusMinutes(round.begins, 8)),
        },
        study: {
          learned: round.learned,
          predictionReview: round.review,
          at: moment(day, round.ends),
        },
        decision: {
          kind: round.next === null ? 'adopt' : 'adapt',
          reason: round.learned,
          ...(round.next === null ? {} : { nextChange: round.next }),
          at: moment(day, plusMinutes(round.ends, 1)),
        },
      }
    }),
    experiments: [trayExperiment({ ago })],
  }
}

const pick = ({ expected, low, high, why }: Round['seconds']) => ({ expected, low, high, why })

function plusMinutes(time: string, minutes: number): string {
  const [hour, minute] = time.split(':').map(Number) as [number, number]
  const total = hour * 60 + minute + minutes
  return `${String(Math.floor(total / 60)).padStart(2, '0')}:${String(total % 60).padStart(2, '0')}`
}
