import type { TableStage } from './table-stage.ts'

/** Told apart by form alone: open while it is thought about, filled once it is done. */
const SHAPES: Readonly<Record<TableStage, { readonly d: string; readonly filled: boolean }>> = {
  waiting: { d: 'M6 12H18', filled: false },
  plan: { d: 'M5 19L6 15L16 5L19 8L9 18Z', filled: false },
  ready: { d: 'M6 11H18V20H6ZM8.5 11V8a3.5 3.5 0 0 1 7 0V11', filled: false },
  running: { d: 'M7 4L20 12L7 20Z', filled: true },
  inspect: { d: 'M10.5 4.5a6 6 0 1 0 .01 0M15 15L20 20', filled: false },
  debrief: { d: 'M4 5H20V16H11L7 20V16H4Z', filled: false },
  done: { d: 'M3 20L21 4V20Z', filled: true },
  excused: { d: 'M5 5L19 19M19 5L5 19', filled: false },
  later: { d: 'M12 4V20M4 12H20', filled: false },
}

/** The mark of a stage. Its word stands beside it, so it is hidden from screen readers. */
export function StageMark({ stage }: { stage: TableStage }) {
  const { d, filled } = SHAPES[stage]
  return (
    <svg className="stage-mark" viewBox="0 0 24 24" aria-hidden="true">
      <path d={d} className={filled ? 'stage-filled' : undefined} />
    </svg>
  )
}
