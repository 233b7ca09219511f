import { openCycle } from '../../domain/carry-over.ts'
import { decide, finishDo, finishStudy, lock } from '../../domain/cycle.ts'
import { observationsOfTest } from '../../domain/outcome.ts'
import type {
  Cycle,
  Decision,
  Id,
  Instant,
  Measure,
  Observation,
  Prediction,
} from '../../domain/record.ts'
import { AppError } from '../../errors.ts'
import type { Write } from '../../storage/record.ts'
import { hasUnitsOf } from '../../storage/units.ts'
import { newId } from '../call.ts'
import { allergyBoxes } from './allergy-boxes.ts'
import { calendarOf, moment } from './calendar.ts'
import { dischargeSummaries } from './discharge-summaries.ts'
import { dressingTray } from './dressing-tray.ts'
import { falls } from './falls.ts'
import {
  type MeasureStory,
  PEOPLE,
  type ProjectStory,
  type TestStory,
  UNITS,
  type UnitKey,
} from './story.ts'
import { suggestionThen } from './suggestion-then.ts'
import { timeToTriage } from './time-to-triage.ts'
import { writeClass } from './write-class.ts'
import { writeExperiment } from './write-experiment.ts'

const DEFAULT_CONFIDENCE = 0.8

/**
 * Writes the invented hospital into the record, told up to today. It goes through the same domain
 * rules as everybody's tests, so it cannot show what the product would refuse.
 *
 * @returns The project to look at first.
 * @throws AppError `example.present`.
 */
export async function loadExample(write: Write, now: Instant): Promise<Id> {
  if (await hasUnitsOf(write.read, 'example'))
    throw new AppError(
      'example.present',
      'The invented hospital is there already.',
      'Remove it first to load it afresh.',
    )
  const people = await writePeople(write, now)
  const units = await writeUnits(write, now)
  const calendar = calendarOf(now)
  const projectIds: Id[] = []
  for (const tell of [dischargeSummaries, timeToTriage, falls, dressingTray, allergyBoxes])
    projectIds.push(await writeProject({ write, now, people, units }, tell(calendar)))
  await writeClass({
    write,
    unitId: units.classroom,
    facilitator: { id: people[6]!, name: PEOPLE[6]! },
    openedAt: moment(calendar.ago(5), '13:00'),
  })
  return projectIds[0]!
}

interface Loading {
  readonly write: Write
  readonly now: Instant
  readonly people: readonly Id[]
  readonly units: Readonly<Record<UnitKey, Id>>
}

async function writePeople(write: Write, now: Instant): Promise<Id[]> {
  const ids: Id[] = []
  for (const name of PEOPLE) {
    const id = newId(now)
    ids.push(id)
    await write.insert('person', {
      id,
      name,
      email: null,
      role: 'member',
      passwordHash: null,
      closedAt: null,
      origin: 'example',
      version: 1,
    })
  }
  return ids
}

async function writeUnits(write: Write, now: Instant): Promise<Record<UnitKey, Id>> {
  const ids: Partial<Record<UnitKey, Id>> = {}
  for (const { key, name } of UNITS) {
    const id = newId(now)
    const parentId = key === 'hospital' ? null : ids.hospital!
    ids[key] = id
    await write.insert('unit', { id, parentId, name, origin: 'example', version: 1 })
  }
  return ids as Record<UnitKey, Id>
}

export interface Told {
  readonly stories: readonly MeasureStory[]
  readonly measures: Map<string, Measure>
  readonly observations: Observation[]
  readonly cycles: { cycle: Cycle; decision: Decision | null; predictions: Prediction[] }[]
}

async function writeProject(loading: Loading, story: ProjectStory): Promise<Id> {
  const { write, now, people, units } = loading
  const projectId = newId(now)
  await write.insert('project', {
    id: projectId,
    unitId: units[story.unit],
    name: story.name,
    aim: story.aim,
    leadId: people[story.lead]!,
    origin: 'example',
    createdAt: moment(story.begun, '08:00'),
    version: 1,
  })
  const told: Told = {
    stories: story.measures,
    measures: new Map(),
    observations: [],
    cycles: [],
  }
  for (const measure of story.measures) await writeMeasure(loading, projectId, measure, told)
  for (const test of story.tests) await writeTest(loading, projectId, test, told)
  for (const experiment of story.experiments ?? [])
    await writeExperiment(loading, projectId, told.measures, experiment)
  for (const { key, phases = [] } of story.measures) {
    for (const { test, ...phase } of phases)
      await write.insert('phase', {
        ...phase,
        id: newId(now),
        measureId: told.measures.get(key)!.id,
        cycleId: test === null ? null : told.cycles[test - 1]!.cycle.id,
        version: 1,
      })
  }
  return projectId
}

async function writeMeasure(
  { write, now, units }: Loading,
  projectId: Id,
  { key, observations, phases: _, annotations = [], unit, sameAs, ...story }: MeasureStory,
  told: Told,
): Promise<void> {
  const measure = await write.insert('measure', {
    ...story,
    id: newId(now),
    projectId,
    unitId: unit === undefined ? null : units[unit],
    sameAsId: sameAs === undefined ? null : told.measures.get(sameAs)!.id,
    version: 1,
  })
  told.measures.set(key, measure)
  for (const observation of observations)
    told.observations.push(
      await write.insert('observation', { ...blank(now, measure.id), ...observation }),
    )
  for (const annotation of annotations)
    await write.insert('annotation', {
      ...annotation,
      id: newId(now),
      measureId: measure.id,
      version: 1,
    })
}

function blank(now: Instant, measureId: Id): Omit<Observation, 'at'> {
  return {
    id: newId(now),
    measureId,
    cycleId: null,
    trialId: null,
    value: null,
    numerator: null,
    denominator: null,
    note: '',
    leftOutReason: null,
    version: 1,
  }
}

async function writeTest(
  loading: Loading,
  projectId: Id,
  story: TestStory,
  told: Told,
): Promise<void> {
  const { write, now, people } = loading
  const from = story.startsRamp ? null : (told.cycles.at(-1) ?? null)
  const opened = openCycle(
    {
      id: newId(now),
      projectId,
      number: told.cycles.length + 1,
      title: story.plan.title,
      createdAt: moment(story.madeOn, '08:30'),
      origin: 'example',
    },
    from,
  )
  const stopMeasureId =
    story.stopMeasure === undefined ? null : told.measures.get(story.stopMeasure)!.id
  let cycle: Cycle = await write.insert('cycle', { ...opened, ...story.plan, stopMeasureId })
  const predictions: Prediction[] = []
  for (const { measure, ...prediction } of story.predictions)
    predictions.push(
      await write.insert('prediction', {
        confidence: DEFAULT_CONFIDENCE,
        ...prediction,
        id: newId(now),
        cycleId: cycle.id,
        measureId: told.measures.get(measure)!.id,
        version: 1,
      }),
    )
  const save = async (after: Cycle) => {
    cycle = await write.update('cycle', cycle.id, null, after)
  }
  let decision: Decision | null = null
  const { locked, ran, study } = story
  if (locked !== undefined) {
    const by = people[locked.by]!
    await save(lock(cycle, predictions, [...told.measures.values()], by, locked.at))
    await writeTrials(loading, cycle, story, by, told)
    if (story.addendum !== undefined)
      await write.insert('addendum', {
        ...story.addendum,
        id: newId(now),
        cycleId: cycle.id,
        predictionId: null,
        byId: by,
      })
    if (ran !== undefined) {
      const { from: ranFrom, to: ranTo, doneAt, ...words } = ran
      await save({ ...cycle, ...words, ranFrom, ranTo })
      const observed = observationsOfTest(cycle, told.observations).length
      if (doneAt !== undefined) await save(finishDo(cycle, null, observed, doneAt))
    }
    if (study !== undefined) {
      const { at, ...words } = study
      await save(finishStudy({ ...cycle, ...words }, null, at))
    }
    if (story.decision !== undefined) {
      const { at, ...given } = story.decision
      const whole = { nextChange: '', ...given, id: newId(now) }
      const suggestion = suggestionThen(told, cycle, predictions, at.slice(0, 10))
      decision = await write.insert('decision', decide(cycle, null, whole, by, at, suggestion))
    }
  }
  told.cycles.push({ cycle, decision, predictions })
}

async function writeTrials(
  { write, now }: Loading,
  cycle: Cycle,
  story: TestStory,
  byId: Id,
  told: Told,
): Promise<void> {
  for (const [i, { at, note, values }] of (story.trials ?? []).entries()) {
    const trial = await write.insert('trial', {
      id: newId(now),
      cycleId: cycle.id,
      number: i + 1,
      at,
      byId,
      note,
      voidReason: null,
      version: 1,
    })
    for (const [key, value] of Object.entries(values)) {
      const measure = told.measures.get(key)!
      const observation = { ...blank(now, measure.id), ...value, at }
      told.observations.push(
        await write.insert('observation', {
          ...observation,
          cycleId: cycle.id,
          trialId: trial.id,
        }),
      )
    }
  }
}
