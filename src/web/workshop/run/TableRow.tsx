import { useId, useState } from 'react'
import { formatDuration } from '../../../domain/duration.ts'
import type { TableState } from '../../../domain/workshop/room-state.ts'
import { hasBegun } from '../../../domain/workshop/wrap-up-rounds.ts'
import { Button } from '../../ui/Button.tsx'
import { Said } from '../../ui/Said.tsx'
import { agoText, stretchText } from './countdown-words.ts'
import { StageMark } from './StageMark.tsx'
import { TablePanel } from './TablePanel.tsx'
import { STAGE_WORDS, stageOf } from './table-stage.ts'
import { useConsole } from './use-console.ts'

/** A table that has done nothing for this long is pointed out, seconds. */
const QUIET = 180

/** One table: where it is, how long since it moved, and what can be done with it. */
export function TableRow({ table }: { table: TableState }) {
  const { state, serverNow } = useConsole()
  const [open, setOpen] = useState(false)
  const id = useId()
  const { round, closedAt } = state.room
  const stage = stageOf(table, round)
  const own = table.rounds.find(({ number }) => number === round)
  const latest = table.rounds.at(-1)
  const now = serverNow()
  const since =
    table.lastMoveAt === null ? null : Math.max(0, (now - Date.parse(table.lastMoveAt)) / 1000)
  const quiet =
    since !== null && since > QUIET && closedAt === null && !['done', 'excused'].includes(stage)
  // Deciding opens the next round; where the class goes together, nobody has begun it by that.
  const elsewhere =
    latest !== undefined &&
    latest.number > round &&
    (state.room.settings.pace === 'alone' || hasBegun(latest))
  return (
    <li className="console-row" data-stage={stage}>
      <div className="console-row-line">
        <StageMark stage={stage} />
        <span className="console-name">{table.name}</span>
        <span className="console-stage">
          {STAGE_WORDS[stage]}
          {own?.seconds != null && <Said>{` ${formatDuration(own.seconds)}`}</Said>}
          {own?.right != null && own.inspected !== null && `, ${own.right} of ${own.inspected}`}
          {elsewhere && ` · in round ${latest.number}`}
        </span>
        <span className={quiet ? 'console-ago quiet' : 'console-ago'}>
          {since === null
            ? 'nothing yet'
            : quiet
              ? `quiet for ${stretchText(since)}`
              : agoText(since)}
        </span>
        <Button
          className="small"
          aria-expanded={open}
          aria-controls={id}
          aria-label={`${open ? 'Less' : 'More'} for ${table.name}`}
          onClick={() => setOpen(!open)}
        >
          {open ? 'Less' : 'More'}
        </Button>
      </div>
      {table.nudge !== null && (
        <p className="console-nudged small">{`On its phones: “${table.nudge.text}”`}</p>
      )}
      <div id={id} hidden={!open}>
        {open && <TablePanel table={table} />}
      </div>
    </li>
  )
}
