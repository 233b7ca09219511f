import type { ReactNode } from 'react'
import type { TableState } from '../../../domain/workshop/room-state.ts'
import { StageMark } from './StageMark.tsx'
import { STAGE_WORDS, type TableStage } from './table-stage.ts'

export interface ScreenTablesProps {
  readonly tables: readonly TableState[]
  readonly stage: (table: TableState) => TableStage
  /** In place of the stage's own word. */
  readonly word?: (table: TableState) => ReactNode
}

/** So few tables leave room for larger letters. */
const FEW = 6

/** Every table of the class with the mark and the word of where it is. */
export function ScreenTables({ tables, stage, word }: ScreenTablesProps) {
  return (
    <ul className={tables.length > FEW ? 'screen-tables bare' : 'screen-tables few bare'}>
      {tables.map((table) => {
        const now = stage(table)
        return (
          <li key={table.id} data-stage={now}>
            <StageMark stage={now} />
            <span className="screen-table-name">{table.name}</span>
            <span className="screen-table-word">{word?.(table) ?? STAGE_WORDS[now]}</span>
          </li>
        )
      })}
    </ul>
  )
}
