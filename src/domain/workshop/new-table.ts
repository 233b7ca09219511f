import type { Cycle, Id, Instant, Measure, Origin, Person, Project } from '../record.ts'
import type { Kit } from './kit.ts'
import type { Room, RoomTable } from './room.ts'

export interface NewTable {
  readonly table: RoomTable
  /** Stands for the table wherever a record says who did something. */
  readonly person: Person
  readonly project: Project
  readonly measures: readonly [time: Measure, quality: Measure]
}

/** Ids of everything that a new table consists of. */
export interface NewTableIds {
  readonly tableId: Id
  readonly projectId: Id
  readonly timeMeasureId: Id
  readonly qualityMeasureId: Id
}

/**
 * A table that joins a room: a project with two measures, time and items right, defined by the kit.
 *
 * @param firstRound Round it begins in.
 * @param excused    Rounds whose predictions are shown already: its lock is not waited for.
 */
export function newTable(
  room: Pick<Room, 'id' | 'unitId'>,
  kit: Kit,
  ids: NewTableIds,
  made: {
    readonly name: string
    readonly place: number
    readonly firstRound: number
    readonly excused: readonly number[]
    readonly origin: Origin
    readonly joinNumber: number
    readonly at: Instant
  },
): NewTable {
  const { tableId, projectId, timeMeasureId, qualityMeasureId } = ids
  const { name, place, firstRound, excused, origin, joinNumber, at } = made
  const measure = {
    projectId,
    per: 1,
    collectionPlan: 'Once a round, by the table itself.',
    goal: null,
    chartKind: 'auto',
    ruleSet: 'auto',
    unitId: null,
    sameAsId: null,
    version: 1,
  } as const
  return {
    table: {
      id: tableId,
      roomId: room.id,
      projectId,
      timeMeasureId,
      qualityMeasureId,
      name,
      place,
      firstRound,
      excused: JSON.stringify(excused),
      nudge: '',
      nudgedAt: null,
      removedAt: null,
      joinNumber,
      version: 1,
    },
    person: { id: tableId, name, email: null, role: 'viewer', closedAt: null, origin, version: 1 },
    project: {
      id: projectId,
      unitId: room.unitId,
      name: projectName(name, kit),
      aim: '',
      leadId: null,
      origin,
      createdAt: at,
      version: 1,
    },
    measures: [
      {
        ...measure,
        id: timeMeasureId,
        name: 'Time',
        role: 'outcome',
        dataKind: 'single',
        valueFormat: 'duration',
        unitLabel: 'seconds',
        better: 'down',
        operationalDefinition: `The clock starts: ${kit.clockStarts}\nThe clock stops: ${kit.clockStops}`,
      },
      {
        ...measure,
        id: qualityMeasureId,
        name: 'Items right',
        role: 'balancing',
        dataKind: 'classified',
        valueFormat: 'number',
        unitLabel: 'items',
        better: 'up',
        operationalDefinition: `Items right, of those inspected after the clock has stopped:\n${kit.checklist
          .map((item, i) => `${i + 1}. ${item}`)
          .join('\n')}`,
      },
    ],
  }
}

/** What a table's project is called. */
export const projectName = (tableName: string, kit: Pick<Kit, 'name'>) =>
  `${tableName} · ${kit.name}`

/** The parts of a round's plan that the table is not asked for. */
export function roundPlan(
  round: number,
  room: Pick<Room, 'name'>,
): Pick<
  Cycle,
  | 'title'
  | 'question'
  | 'where'
  | 'howMany'
  | 'collection'
  | 'determination'
  | 'approval'
  | 'approvalNote'
  | 'couldHarm'
> {
  return {
    title: `Round ${round}`,
    question: 'Does this way of working take less time, with as many items right?',
    where: room.name,
    howMany: 'One trial',
    collection: 'The table times the trial and inspects what it made.',
    determination: 'exercise',
    approval: 'not-needed',
    approvalNote: 'A classroom exercise without patients.',
    couldHarm: 'no',
  }
}
