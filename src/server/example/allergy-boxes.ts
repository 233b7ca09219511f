import { type Calendar, inWords, later, moment } from './calendar.ts'
import type { MeasureStory, ProjectStory, TestStory, UnitKey } from './story.ts'

const WEEKS = 36
const CHECKED = 20
// Invented: of 20 drug charts checked on a Friday, those whose allergy box was filled in.
const WARD_4 = [
  10, 13, 12, 16, 11, 11, 8, 8, 13, 14, 11, 10, 17, 18, 17, 16, 16, 17, 19, 17, 18, 17, 14, 16, 17,
  16, 16, 14, 16, 17, 16, 15, 16, 14, 16, 18,
]
const WARD_7 = [
  11, 15, 9, 13, 11, 11, 12, 14, 11, 10, 10, 10, 10, 13, 13, 14, 11, 8, 14, 11, 18, 17, 18, 16, 19,
  17, 16, 19, 18, 19, 16, 17, 19, 18, 18, 19,
]
const EMERGENCY = [
  8, 10, 11, 9, 14, 13, 6, 11, 9, 10, 14, 12, 8, 7, 9, 6, 10, 11, 14, 11, 11, 11, 8, 13, 12, 6, 17,
  17, 16, 18, 16, 17, 17, 17, 13, 17,
]

/** When the change began on a unit, by its week, and who it is told by. */
const STEPS: readonly {
  readonly key: string
  readonly unit: UnitKey
  readonly name: string
  readonly filledIn: readonly number[]
  readonly from: number
  readonly by: number
  readonly expected: number
}[] = [
  {
    key: 'ward4',
    unit: 'ward4',
    name: 'Ward 4',
    filledIn: WARD_4,
    from: 12,
    by: 1,
    expected: 0.85,
  },
  {
    key: 'ward7',
    unit: 'ward7',
    name: 'Ward 7',
    filledIn: WARD_7,
    from: 20,
    by: 2,
    expected: 0.85,
  },
  {
    key: 'emergency',
    unit: 'emergency',
    name: 'Emergency Department',
    filledIn: EMERGENCY,
    from: 26,
    by: 3,
    expected: 0.8,
  },
]

/** One change taken from ward to ward: the same measure on three units, begun at three times. */
export function allergyBoxes({ week }: Calendar): ProjectStory {
  const weekOf = (i: number) => week(i - WEEKS)
  const measures = STEPS.map(
    ({ key, unit, name, filledIn, from }, i): MeasureStory => ({
      key,
      ...(i === 0 ? {} : { unit, sameAs: STEPS[0]!.key }),
      name: i === 0 ? 'Allergy box filled in' : `Allergy box filled in, ${name}`,
      role: 'process',
      dataKind: 'classified',
      valueFormat: 'number',
      unitLabel: 'charts',
      per: 1,
      better: 'up',
      operationalDefinition:
        'Of 20 drug charts taken from the rack on Friday, those whose allergy box names an allergy or says “none known”, with initials.',
      collectionPlan: 'Every Friday by the pharmacist of the unit.',
      goal: 0.95,
      chartKind: 'auto',
      ruleSet: 'auto',
      observations: filledIn.map((numerator, k) => ({
        at: weekOf(k),
        numerator,
        denominator: CHECKED,
      })),
      phases: [
        { startsAt: null, frozenThrough: weekOf(from - 1), reason: '', test: null },
        {
          startsAt: weekOf(from),
          frozenThrough: null,
          reason: 'The box has been filled in with the patient at arrival since then.',
          test: i + 1,
        },
      ],
    }),
  )
  const tests = STEPS.map(({ key, name, from, by, expected }): TestStory => {
    const to = later(weekOf(from + 3), 6)
    return {
      plan: {
        title: `Ask at arrival, ${name}`,
        question: `Is the box filled in more often when it is asked at arrival on ${name}?`,
        change:
          'The nurse who takes the patient in asks about allergies and fills in the box at once.',
        who: 'Nurses who admit',
        where: name,
        collection: 'The pharmacist checks 20 charts every Friday.',
        howMany: 'Every patient who arrives in four weeks',
        plannedFrom: weekOf(from),
        plannedTo: to,
        determination: 'improvement',
        approval: 'on-record',
        approvalNote: 'Improvement register of the invented hospital, entry 23.',
        couldHarm: 'no',
      },
      ...(from === STEPS[0]!.from ? {} : { startsRamp: true as const }),
      madeOn: later(weekOf(from - 1), 2),
      predictions: [
        {
          measure: key,
          expected,
          low: expected - 0.1,
          high: expected + 0.1,
          why: 'At arrival the patient or a relative can be asked; on the round nobody is there to ask.',
        },
      ],
      locked: { at: moment(weekOf(from), '07:20'), by },
      ran: {
        from: weekOf(from),
        to,
        happened: 'Asked at arrival on all days but one.',
        surprises: 'Relatives often had the list of medicines with them too.',
        doneAt: moment(weekOf(from + 4), '08:10'),
      },
      study: {
        learned: 'It takes a minute and saves the call to the practice later.',
        predictionReview: 'Inside the range, for the reason we gave.',
        at: moment(weekOf(from + 4), '08:40'),
      },
      decision: {
        kind: 'adopt',
        reason: 'Inside the range and no extra work that anybody noticed.',
        at: moment(weekOf(from + 4), '08:50'),
      },
    }
  })
  return {
    unit: 'ward4',
    lead: 2,
    name: 'Allergies on the drug chart',
    aim: `From one half to 95 % of drug charts with the allergy box filled in, on Ward 4, Ward 7 and in the Emergency Department, by ${inWords(later(week(0), 70))}.`,
    begun: weekOf(0),
    measures,
    tests,
  }
}
