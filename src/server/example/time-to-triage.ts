import { type Calendar, inWords, later, moment } from './calendar.ts'
import { triageExperiment } from './experiments.ts'
import type { ProjectStory } from './story.ts'

// Invented: mean time from arrival to triage each day, in seconds, oldest first; the last is yesterday.
const TRIAGE = [
  1042, 1125, 978, 1190, 1084, 1011, 1156, 1098, 967, 1134, 1061, 1203, 1025, 1110, 1072, 990, 1148,
  1089, 1034, 1121, 1067, 1002, 1140, 1055, 1097, 1018, 1129, 1076, 958, 902, 871, 915, 840, 866,
  793, 812, 774, 835, 801, 758, 789, 820,
]
const LEFT_UNSEEN = [4, 6, 5, 3, 5, 4, 6, 5, 4, 3, 4, 2, 3]

/** Emergency Department: a second nurse at the door; the Study is written and waits for its decision. */
export function timeToTriage({ ago, week }: Calendar): ProjectStory {
  const dayOf = (i: number) => ago(TRIAGE.length - i)
  const local = {
    who: 'Triage nurses and the shift lead',
    where: 'Emergency Department, walk-in entrance',
    collection: 'Arrival and triage times from the department list, mean of each day.',
    determination: 'improvement',
    approval: 'on-record',
    approvalNote: 'Agreed with the clinical lead; improvement register, entry 19 (invented).',
  } as const
  return {
    unit: 'emergency',
    lead: 3,
    name: 'Time from arrival to triage',
    aim: `From about 18 to 12 minutes between arrival and triage for walk-in patients, by ${inWords(later(week(0), 42))}.`,
    begun: dayOf(0),
    measures: [
      {
        key: 'triage',
        name: 'Time from arrival to triage',
        role: 'process',
        dataKind: 'single',
        valueFormat: 'duration',
        unitLabel: 'minutes',
        per: 1,
        better: 'down',
        operationalDefinition:
          'Mean over all walk-in patients of the day, from the stamp at the door to the first entry of the triage nurse. Ambulances are excluded.',
        collectionPlan: 'From the department list, every morning for the day before.',
        goal: 720,
        chartKind: 'auto',
        ruleSet: 'auto',
        observations: TRIAGE.map((value, i) => ({ at: dayOf(i), value })),
        phases: [{ startsAt: null, frozenThrough: dayOf(27), reason: '', test: null }],
        annotations: [{ at: dayOf(41), text: 'Drop seen; a new phase waits for the decision.' }],
      },
      {
        key: 'left',
        name: 'Patients who left before being seen',
        role: 'balancing',
        dataKind: 'counts',
        valueFormat: 'number',
        unitLabel: 'patients',
        per: 1,
        better: 'down',
        operationalDefinition: 'Registered walk-in patients of the week who were gone when called.',
        collectionPlan: 'From the department list, every Monday.',
        goal: null,
        chartKind: 'auto',
        ruleSet: 'auto',
        observations: LEFT_UNSEEN.map((value, i) => ({ at: week(i - LEFT_UNSEEN.length), value })),
      },
    ],
    tests: [
      {
        plan: {
          ...local,
          title: 'A second triage nurse from two to six',
          question: 'Is the wait made in the afternoon?',
          change: 'From two to six a second nurse triages at the door.',
          plannedFrom: dayOf(28),
          plannedTo: dayOf(33),
          howMany: 'Six days, every walk-in patient',
          couldHarm: 'no',
        },
        madeOn: dayOf(25),
        predictions: [
          {
            measure: 'triage',
            expected: 900,
            low: 780,
            high: 1020,
            why: 'Half of the day’s patients come in those four hours.',
          },
        ],
        locked: { at: moment(dayOf(27), '15:00'), by: 3 },
        ran: {
          from: dayOf(28),
          to: dayOf(33),
          happened: 'A second nurse stood at the door on all six days.',
          wentWrong: 'On the first day the second desk had no printer for wristbands.',
          doneAt: moment(dayOf(34), '08:00'),
        },
        study: {
          learned: 'The wait is made in the afternoon; the second desk empties it.',
          predictionReview: 'Inside the range: 14:52 on average, close to what we said.',
          at: moment(dayOf(34), '08:30'),
        },
        decision: {
          kind: 'adapt',
          reason: 'It works, and the mornings stay as they were.',
          nextChange: 'Begin at noon, when the queue begins.',
          at: moment(dayOf(34), '08:40'),
        },
      },
      {
        plan: {
          ...local,
          title: 'A second triage nurse from noon to six',
          question: 'Does starting with the queue take the rest of the wait away?',
          change: 'From noon to six a second nurse triages at the door.',
          plannedFrom: dayOf(34),
          plannedTo: dayOf(40),
          howMany: 'One week, every walk-in patient',
          couldHarm: 'yes',
          stopRule:
            'Stop at once if the second nurse is missing elsewhere and more than eight patients leave unseen in a week.',
        },
        stopMeasure: 'left',
        madeOn: dayOf(34),
        predictions: [
          {
            measure: 'triage',
            expected: 780,
            low: 700,
            high: 860,
            why: 'The queue of noon is still there at two; without it the afternoon starts empty.',
          },
          {
            measure: 'left',
            expected: 3,
            low: 1,
            high: 6,
            why: 'Shorter waits should not make more people leave.',
          },
        ],
        locked: { at: moment(dayOf(34), '10:30'), by: 4 },
        ran: {
          from: dayOf(34),
          to: dayOf(40),
          happened: 'Six of seven days with a second nurse from noon; one from one o’clock.',
          surprises: 'Ambulance crews began to use the second desk as well.',
          doneAt: moment(dayOf(41), '08:10'),
        },
        study: {
          learned: 'Most of the wait is gone. What is left are the mornings of Monday.',
          predictionReview: 'Inside the range, about 13 minutes, for the reason we gave.',
          at: moment(dayOf(41), '09:00'),
        },
      },
    ],
    experiments: [triageExperiment({ ago })],
  }
}
