import { useMemo } from 'react'
import { layOutWorksheetGrid, type WorksheetRound } from '../../../charts/worksheet-grid.ts'
import { formatDuration } from '../../../domain/duration.ts'
import { DECISIONS } from '../../../domain/record.ts'
import { isCountOnly } from '../../../domain/workshop/inspecting.ts'
import type { Kit } from '../../../domain/workshop/kit.ts'
import type { RoundState } from '../../../domain/workshop/room-state.ts'
import { PictureMarks } from '../../chart/PictureMarks.tsx'
import { stepText } from '../prepare/KitRead.tsx'
import { Boxed, Tick, Written } from './SheetLines.tsx'
import { sheetSpace } from './sheet-space.ts'

export interface WorksheetProps {
  /** Name of the workshop; blank on a sheet that belongs to none. */
  readonly workshop: string
  /** Name of the table; blank: a line to write it on. */
  readonly table: string
  readonly kit: Kit
  readonly round: number
  readonly rounds: number
  readonly single: boolean
  /** What is recorded of the round; `null`: the sheet is blank. */
  readonly there: RoundState | null
  /** What is recorded of all rounds up to this one, for the plot. */
  readonly plotted: readonly WorksheetRound[]
}

const DECISION_WORDS = { adopt: 'Adopt', adapt: 'Adapt', abandon: 'Abandon' } as const

/** One round of one table on one page: to write on, or as it is recorded. */
export function Worksheet(props: WorksheetProps) {
  const { workshop, table, kit, round, rounds, single, there, plotted } = props
  const items = kit.checklist.length
  const { dense, plot } = sheetSpace(kit)
  const trial = there?.trials.findLast(({ voidReason }) => voidReason === null)
  const time = there?.predictions?.time ?? null
  const quality = there?.predictions?.quality ?? null
  const readings = trial?.readings.filter(({ kept }) => kept !== false) ?? []
  const duration = (seconds: number | undefined) =>
    seconds === undefined ? null : formatDuration(seconds)
  const count = (share: number | undefined) =>
    share === undefined ? null : String(Math.round(share * items))
  const markOf = (item: number): boolean | null => {
    const given = (trial?.inspections ?? [])
      .map(({ marks }) => marks[item] ?? null)
      .filter((mark) => mark !== null)
    return given.length === 0 ? null : given.every((mark) => mark === 1)
  }
  const countOnly = isCountOnly(trial?.inspections ?? [])
  const scored = kit.score.find(({ score }) => score === there?.score)

  return (
    <article
      className={dense ? 'sheet worksheet long' : 'sheet worksheet'}
      aria-label={`Worksheet, ${table || 'blank'}, round ${round}`}
    >
      <header className="sheet-head">
        <h2>{`Round ${round} of ${rounds}`}</h2>
        <p>
          Table <span className="fill-in">{table}</span>
        </p>
        <p className="small">{[kit.name, workshop].filter(Boolean).join(' · ')}</p>
      </header>
      <section className="sheet-part">
        <h3>Before the clock: strategy and prediction</h3>
        <Written label="What we will do this time" value={there?.strategy ?? ''} lines={2} />
        <div className="sheet-row">
          <div className="sheet-said">
            <p>Time, minutes and seconds</p>
            <div className="sheet-row">
              {!single && <Boxed label="low" value={duration(time?.low)} />}
              <Boxed label="expected" value={duration(time?.expected)} />
              {!single && <Boxed label="high" value={duration(time?.high)} />}
            </div>
          </div>
          <div className="sheet-said">
            <p>{`Items right of ${items}`}</p>
            <div className="sheet-row">
              {!single && <Boxed label="low" value={count(quality?.low)} />}
              <Boxed label="expected" value={count(quality?.expected)} />
              {!single && <Boxed label="high" value={count(quality?.high)} />}
            </div>
          </div>
        </div>
      </section>
      <section className="sheet-part">
        <h3>Clock</h3>
        <div className="sheet-row">
          <Boxed label="timer 1, m:ss" value={duration(readings[0]?.seconds)} />
          <Boxed label="timer 2, m:ss" value={duration(readings[1]?.seconds)} />
          <p className="small sheet-definition">{`${kit.clockStarts} ${kit.clockStops}`}</p>
        </div>
      </section>
      <section className="sheet-part">
        <h3>Inspection: tick what is right, cross what is not</h3>
        {countOnly && <p className="small">Count only: which items were right is not recorded.</p>}
        <ol className="sheet-checks">
          {kit.checklist.map((item, i) => (
            <li key={item}>
              <Tick mark={there === null ? null : markOf(i)} />
              <span>{`${i + 1}. ${item}`}</span>
            </li>
          ))}
        </ol>
        <div className="sheet-row">
          <Boxed
            label={`right of ${items}`}
            value={there?.right == null ? null : String(there.right)}
          />
          <Boxed label="score" value={scored === undefined ? null : String(scored.score)} />
          <p className="small sheet-definition">
            {kit.score.map((step) => `${step.score}: ${stepText(step, items)}`).join('; ')}
          </p>
        </div>
      </section>
      <section className="sheet-part">
        <h3>Plot: a bracket for what we said, a dot for what came</h3>
        <Grid rounds={rounds} plotted={plotted} height={plot} />
      </section>
      <section className="sheet-part">
        <h3>Debrief and decision</h3>
        <Written
          label="What we learned; was the prediction right?"
          value={there?.learned ?? ''}
          lines={2}
        />
        <div className="sheet-row sheet-decision">
          {DECISIONS.map((kind) => (
            <span key={kind} className="sheet-choice">
              <Tick mark={there?.decision?.kind === kind ? true : null} />
              {DECISION_WORDS[kind]}
            </span>
          ))}
        </div>
        <Written label="Because" value={there?.decision?.reason ?? ''} lines={1} />
        <Written label="What we change next" value={there?.decision?.nextChange ?? ''} lines={1} />
      </section>
    </article>
  )
}

interface GridProps {
  readonly rounds: number
  readonly plotted: readonly WorksheetRound[]
  readonly height: number
}

function Grid({ rounds, plotted, height }: GridProps) {
  const picture = useMemo(
    () => layOutWorksheetGrid({ rounds, filled: plotted, width: 680, height }),
    [rounds, plotted, height],
  )
  const words = plotted
    .filter(({ seconds }) => seconds !== null)
    .map(({ round, seconds }) => `Round ${round}: ${formatDuration(seconds ?? 0)}.`)
  return (
    <svg
      className="sheet-grid"
      role="img"
      aria-label={words.length === 0 ? 'An empty plot of time by round.' : words.join(' ')}
      viewBox={`0 0 ${picture.width} ${picture.height}`}
    >
      <PictureMarks picture={picture} />
    </svg>
  )
}

/** What the plot of a sheet shows: the rounds up to its own. */
export function plottedUpTo(rounds: readonly RoundState[], last: number): WorksheetRound[] {
  return rounds
    .filter(({ number }) => number <= last)
    .map(({ number, seconds, predictions }) => ({
      round: number,
      seconds,
      predicted: predictions?.time ?? null,
    }))
}
