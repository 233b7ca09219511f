import { type Calendar, inWords, later, moment } from './calendar.ts'
import type { ProjectStory } from './story.ts'

const WEEKS = 26
// Invented. Seventeen weeks about one half, a week without a printer, then a climb.
const DISCHARGES = [
  39, 42, 37, 45, 41, 40, 44, 38, 43, 41, 36, 42, 40, 45, 39, 41, 43, 40, 38, 44, 42, 39, 41, 45,
  40, 42,
]
const WITHIN_24_HOURS = [
  18, 22, 16, 23, 23, 20, 19, 20, 10, 20, 19, 20, 21, 20, 21, 20, 22, 23, 24, 31, 28, 29, 28, 34,
  31, 32,
]
const PRACTICE_CALLS = [
  9, 7, 11, 8, 6, 9, 10, 7, 14, 8, 9, 6, 10, 8, 7, 9, 8, 7, 6, 5, 6, 4, 5, 4, 5, 3,
]
const MINUTES_LATE = [
  21, 17, 24, 19, 26, 18, 22, 20, 28, 19, 23, 17, 21, 25, 18, 22, 20, 24, 19, 21, 18, 17, 20, 16,
  19, 18,
]

/** Ward 4: a ramp of five tests, from a poster that did nothing to a change that held. */
export function dischargeSummaries({ week }: Calendar): ProjectStory {
  const weekOf = (i: number) => week(i - WEEKS)
  const local = {
    who: 'Ward doctors and the ward clerk',
    collection:
      'The ward clerk counts every Monday from the discharge list: discharges of the week, and those whose summary left within 24 hours.',
    determination: 'improvement',
    approval: 'on-record',
    approvalNote: 'Improvement register of the invented hospital, entry 14.',
    couldHarm: 'no',
  } as const
  return {
    unit: 'ward4',
    lead: 0,
    name: 'Discharge summaries within 24 hours',
    aim: `From one half to 80 % of Ward 4's discharge summaries with the general practice within 24 hours, by ${inWords(later(week(0), 56))}.`,
    begun: weekOf(0),
    measures: [
      {
        key: 'sent',
        name: 'Discharge summaries sent within 24 hours',
        role: 'process',
        dataKind: 'classified',
        valueFormat: 'number',
        unitLabel: 'discharges',
        per: 1,
        better: 'up',
        operationalDefinition:
          'Of all patients who left Ward 4 alive for home in the week, those whose summary was sent within 24 hours of leaving. Transfers to another ward are excluded.',
        collectionPlan: 'Counted every Monday by the ward clerk from the discharge list.',
        goal: 0.8,
        chartKind: 'auto',
        ruleSet: 'auto',
        observations: DISCHARGES.map((denominator, i) => ({
          at: weekOf(i),
          numerator: WITHIN_24_HOURS[i]!,
          denominator,
          note: i === 8 ? 'The ward printer was out of order for three days.' : '',
        })),
        phases: [
          { startsAt: null, frozenThrough: weekOf(16), reason: '', test: null },
          {
            startsAt: weekOf(17),
            frozenThrough: null,
            reason:
              'Every week since test 2 lies above the earlier centre, and drafting on the round explains it.',
            test: 2,
          },
        ],
        annotations: [{ at: weekOf(8), text: 'Printer out of order for three days.' }],
      },
      {
        key: 'calls',
        name: 'Calls from practices about a missing summary',
        role: 'outcome',
        dataKind: 'counts',
        valueFormat: 'number',
        unitLabel: 'calls',
        per: 1,
        better: 'down',
        operationalDefinition: 'Calls to the ward desk in the week that ask for a summary.',
        collectionPlan: 'Tally sheet at the desk, added up on Mondays.',
        goal: 3,
        chartKind: 'auto',
        ruleSet: 'auto',
        observations: PRACTICE_CALLS.map((value, i) => ({ at: weekOf(i), value })),
        annotations: [{ at: weekOf(25), text: 'Looked at together in the weekly meeting.' }],
      },
      {
        key: 'late',
        name: 'Minutes doctors stay after their shift',
        role: 'balancing',
        dataKind: 'single',
        valueFormat: 'number',
        unitLabel: 'minutes',
        per: 1,
        better: 'down',
        operationalDefinition:
          'Mean of the minutes past the end of the day shift, all ward doctors, weekdays of the week.',
        collectionPlan: 'From the rota, every Monday.',
        goal: null,
        chartKind: 'auto',
        ruleSet: 'auto',
        observations: MINUTES_LATE.map((value, i) => ({ at: weekOf(i), value })),
      },
    ],
    tests: [
      {
        plan: {
          ...local,
          title: 'A poster at the ward desk',
          question: 'Does a reminder where summaries are written raise the share sent in time?',
          change: 'A poster at the desk: "Has the summary gone?"',
          where: 'Ward 4, both desks',
          plannedFrom: weekOf(12),
          plannedTo: later(weekOf(12), 6),
          howMany: 'All discharges of one week',
        },
        madeOn: later(weekOf(11), 2),
        predictions: [
          {
            measure: 'sent',
            expected: 0.6,
            low: 0.55,
            high: 0.68,
            why: 'People say that they simply forget.',
          },
        ],
        locked: { at: moment(weekOf(12), '07:40'), by: 0 },
        ran: {
          from: weekOf(12),
          to: later(weekOf(12), 6),
          happened: 'Two posters hung all week. 21 of 40 summaries went within 24 hours.',
          wentWrong: 'One poster was covered by the duty list on Wednesday.',
          doneAt: moment(weekOf(13), '09:10'),
        },
        study: {
          learned:
            'Nobody had forgotten: the summary waits because it is begun after the patient has left, when the notes are elsewhere.',
          predictionReview:
            'Wrong. We expected 55 to 68 % and saw 53 %, as before. Forgetting was not the reason.',
          at: moment(weekOf(13), '09:40'),
        },
        decision: {
          kind: 'abandon',
          reason: 'No better than before, and the reason we gave for it does not hold.',
          differsBecause: 'A poster cannot be made to work; drafting on the round can be tried.',
          at: moment(weekOf(13), '09:50'),
        },
      },
      {
        plan: {
          ...local,
          title: 'Draft on the morning round, two patients a day',
          question: 'Can a summary be drafted on the round before the day of discharge?',
          change: 'The round drafts the summary of two patients who will go home the next day.',
          where: 'Ward 4, bay A',
          plannedFrom: weekOf(17),
          plannedTo: later(weekOf(17), 6),
          howMany: 'Two patients a day, five days',
        },
        madeOn: later(weekOf(15), 1),
        predictions: [
          {
            measure: 'sent',
            expected: 0.56,
            low: 0.5,
            high: 0.64,
            why: 'Ten drafts among forty discharges can move the week by about six points.',
          },
        ],
        locked: { at: moment(weekOf(17), '07:30'), by: 1 },
        ran: {
          from: weekOf(17),
          to: later(weekOf(17), 6),
          happened: 'Nine of ten drafts were made; 23 of 40 summaries went in time.',
          surprises: 'Pharmacy asked for the drafts too: they need the list of medicines early.',
          doneAt: moment(weekOf(18), '08:50'),
        },
        study: {
          learned: 'A draft takes four minutes on the round and saves about fifteen afterwards.',
          predictionReview: 'Inside the range, 58 %, for the reason we gave.',
          at: moment(weekOf(18), '09:05'),
        },
        decision: {
          kind: 'adapt',
          reason: 'It works for two a day. More are possible if pharmacy reads along.',
          nextChange: 'Draft for everybody in bay A who may leave the next day, with pharmacy.',
          at: moment(weekOf(18), '09:15'),
        },
      },
      {
        plan: {
          ...local,
          title: 'Draft on the round, all of one bay',
          question: 'Does drafting scale from two patients to a bay?',
          change:
            'Draft for everybody in bay A who may leave the next day; pharmacy checks the medicines at noon.',
          where: 'Ward 4, bay A',
          plannedFrom: weekOf(18),
          plannedTo: later(weekOf(19), 6),
          howMany: 'All discharges of bay A, two weeks',
        },
        madeOn: later(weekOf(18), 0),
        predictions: [
          {
            measure: 'sent',
            expected: 0.66,
            low: 0.58,
            high: 0.74,
            why: 'Bay A has a third of the discharges, and nearly all of them can be drafted.',
          },
        ],
        locked: { at: moment(weekOf(18), '11:20'), by: 1 },
        ran: {
          from: weekOf(18),
          to: later(weekOf(19), 6),
          happened: '55 of 82 summaries of the ward went within 24 hours.',
          wentWrong: 'On two days nobody from pharmacy was free at noon.',
          doneAt: moment(weekOf(20), '09:00'),
        },
        study: {
          learned: 'The draft is what counts; the noon check can wait until the afternoon.',
          predictionReview: 'Inside the range: 67 % of the two weeks together.',
          at: moment(weekOf(20), '09:20'),
        },
        decision: {
          kind: 'adapt',
          reason: 'As predicted on one bay. The whole ward differs: bay C has short stays.',
          nextChange: 'Every bay, weekdays; pharmacy checks when it can before four.',
          at: moment(weekOf(20), '09:30'),
        },
      },
      {
        plan: {
          ...local,
          title: 'Draft on the round, whole ward, weekdays',
          question: 'Does it hold in every bay without keeping doctors longer?',
          change: 'Every round drafts the summaries of those who may leave the next day.',
          where: 'Ward 4, bays A to C',
          plannedFrom: weekOf(20),
          plannedTo: later(weekOf(22), 6),
          howMany: 'All weekday discharges, three weeks',
        },
        madeOn: later(weekOf(20), 0),
        predictions: [
          {
            measure: 'sent',
            expected: 0.7,
            low: 0.62,
            high: 0.78,
            why: 'Bay C will lag: its patients often leave on the day they come.',
          },
          {
            measure: 'late',
            expected: 20,
            low: 15,
            high: 25,
            why: 'The time on the round is saved in the afternoon.',
          },
        ],
        locked: { at: moment(weekOf(20), '12:05'), by: 2 },
        addendum: {
          at: moment(later(weekOf(20), 3), '08:00'),
          text: 'The plan says bays A to C; bay D opened on Wednesday and takes part as well.',
        },
        ran: {
          from: weekOf(20),
          to: later(weekOf(22), 6),
          happened:
            '85 of 122 summaries went within 24 hours; doctors stayed 18 minutes on average.',
          surprises: 'Practices rang less: calls fell to about five a week.',
          doneAt: moment(weekOf(23), '08:45'),
        },
        study: {
          learned: 'It holds on weekdays in every bay. What is late now are the weekends.',
          predictionReview:
            'Right for both: 70 % and 18 minutes. Bay C did lag, as we said, but less than feared.',
          at: moment(weekOf(23), '09:10'),
        },
        decision: {
          kind: 'adopt',
          reason: 'Three weeks as predicted, no cost to the doctors. It is part of the round now.',
          at: moment(weekOf(23), '09:20'),
        },
      },
      {
        plan: {
          ...local,
          title: 'Weekend discharges too',
          question: 'Can the Friday round draft for the weekend?',
          change: 'The Friday round also drafts for those who may leave on Saturday or Sunday.',
          where: 'Ward 4, all bays',
          plannedFrom: weekOf(24),
          plannedTo: later(week(0), 13),
          howMany: 'All discharges, about four weeks',
          couldHarm: 'yes',
          stopRule:
            'Stop at once if a change of medicine made after Friday is missing from a sent summary, or if doctors stay more than 35 minutes on average in a week.',
        },
        stopMeasure: 'late',
        madeOn: later(weekOf(23), 0),
        predictions: [
          {
            measure: 'sent',
            expected: 0.77,
            low: 0.7,
            high: 0.85,
            why: 'Weekends are a sixth of the discharges and are nearly all late today.',
          },
          {
            measure: 'late',
            expected: 20,
            low: 15,
            high: 27,
            why: 'Fridays will be longer, other days the same.',
          },
        ],
        locked: { at: moment(weekOf(24), '07:35'), by: 0 },
        ran: { from: weekOf(24), to: null, happened: '' },
      },
    ],
  }
}
