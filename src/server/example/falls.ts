import { type Calendar, inWords, later, moment } from './calendar.ts'
import type { ProjectStory } from './story.ts'

// Invented: falls and bed-days of each month, oldest first; the last is last month.
const FALLS = [6, 4, 7, 5, 8, 5, 6, 4, 7, 6, 5, 7, 6, 5, 8, 4, 6, 5, 4, 3, 4, 2]
const BED_DAYS = [
  842, 790, 861, 812, 874, 836, 855, 801, 868, 829, 847, 815, 852, 833, 870, 796, 845, 822, 858,
  808, 849, 818,
]
const BELLS_LOOKED_AT = [
  60, 60, 58, 60, 60, 57, 60, 60, 59, 60, 60, 58, 60, 60, 60, 59, 60, 60, 60, 58, 60, 60,
]
const BELLS_IN_TIME = [
  50, 47, 49, 51, 48, 47, 50, 49, 51, 48, 50, 47, 49, 51, 45, 44, 43, 45, 42, 43, 41, 42,
]

/** Ward 7: a test that waits for its Study, the next one in the making, and a balancing measure that slips. */
export function falls({ month, week, ago }: Calendar): ProjectStory {
  const monthOf = (i: number) => month(i - FALLS.length)
  const weekOf = (i: number) => week(i - BELLS_LOOKED_AT.length)
  const local = {
    who: 'Nurses and nursing assistants of the day shift',
    where: 'Ward 7',
    collection: 'Falls from the incident list, bed-days from the midnight count, every month.',
    determination: 'improvement',
    approval: 'not-needed',
    approvalNote: 'Falls policy of the invented hospital, section 3: changes of rounds need none.',
  } as const
  return {
    unit: 'ward7',
    lead: 5,
    name: 'Fewer falls at night and in the early morning',
    aim: `From about 7 to 4 falls per 1,000 bed-days on Ward 7, by ${inWords(later(week(0), 120))}.`,
    begun: monthOf(0),
    measures: [
      {
        key: 'falls',
        name: 'Falls per 1,000 bed-days',
        role: 'outcome',
        dataKind: 'rates',
        valueFormat: 'number',
        unitLabel: 'bed-days',
        per: 1000,
        better: 'down',
        operationalDefinition:
          'Every fall of a patient on the ward, with or without injury, as reported; bed-days by the midnight count.',
        collectionPlan: 'On the second working day of the month, for the month before.',
        goal: 4,
        chartKind: 'auto',
        ruleSet: 'auto',
        observations: FALLS.map((numerator, i) => ({
          at: monthOf(i),
          numerator,
          denominator: BED_DAYS[i]!,
        })),
      },
      {
        key: 'bells',
        name: 'Call bells answered within three minutes',
        role: 'balancing',
        dataKind: 'classified',
        valueFormat: 'number',
        unitLabel: 'bells',
        per: 1,
        better: 'up',
        operationalDefinition:
          'Of the first sixty bells of the week from Monday on, those answered within three minutes.',
        collectionPlan: 'From the bell log, every Monday.',
        goal: null,
        chartKind: 'auto',
        ruleSet: 'auto',
        observations: BELLS_LOOKED_AT.map((denominator, i) => ({
          at: weekOf(i),
          numerator: BELLS_IN_TIME[i]!,
          denominator,
        })),
      },
    ],
    tests: [
      {
        plan: {
          ...local,
          title: 'A round at five in the morning',
          question: 'Are early falls on the way to the bathroom prevented by being asked first?',
          change: 'At five every patient who is awake is asked about bathroom, water and pain.',
          plannedFrom: monthOf(19),
          plannedTo: later(month(0), -1),
          howMany: 'Every night, three months',
          couldHarm: 'yes',
          stopRule:
            'Stop at once if fewer than 60 % of bells are answered in time in two weeks running.',
        },
        stopMeasure: 'bells',
        madeOn: later(monthOf(18), 8),
        predictions: [
          {
            measure: 'falls',
            expected: 4.5,
            low: 2.5,
            high: 6.5,
            why: 'A third of the falls happened between five and seven.',
          },
          {
            measure: 'bells',
            expected: 0.8,
            low: 0.72,
            high: 0.88,
            why: 'The round takes two people for twenty minutes, when few bells ring.',
          },
        ],
        locked: { at: moment(monthOf(19), '06:30'), by: 5 },
        ran: {
          from: monthOf(19),
          to: later(month(0), -1),
          happened: 'The round was done on nine nights of ten. Nine falls in 2,475 bed-days.',
          wentWrong: 'On nights with one nurse short it fell out.',
          surprises: 'Bells are answered later since the round began, mostly from six on.',
          doneAt: moment(month(0), '08:00'),
        },
      },
      {
        plan: {
          ...local,
          title: 'Footwear checked at bedtime',
          question: 'Do non-slip socks at bedtime prevent falls on the way at night?',
          change: '',
          approval: null,
          approvalNote: '',
          couldHarm: null,
        },
        startsRamp: true,
        madeOn: ago(9),
        predictions: [],
      },
    ],
  }
}
