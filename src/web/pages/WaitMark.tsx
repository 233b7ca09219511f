import type { TodayItem } from '../../api/contract.ts'

/** The marks of the charts, small: what kind of thing waits. The sentence beside it says the same. */
const MARKS: Readonly<Record<TodayItem['kind'], React.ReactNode>> = {
  lock: <path className="bracket" d="M9 4h14M9 28h14M16 4v24M11 15h10" />,
  collect: (
    <>
      <path className="bracket" d="M5 4h12M5 28h12M11 4v24M7 15h8" />
      <circle className="awaited" cx="24" cy="15" r="4.5" />
    </>
  ),
  study: <path className="tooth dotted" d="M3 26 28 7v19Z" />,
  decide: <path className="tooth" d="M3 26 28 7v19Z" />,
  signal: (
    <>
      <circle className="ring" cx="16" cy="16" r="11" />
      <circle className="dot" cx="16" cy="16" r="4" />
    </>
  ),
}

export function WaitMark({ kind }: { kind: TodayItem['kind'] }) {
  return (
    <svg className="wait-mark" width="32" height="32" viewBox="0 0 32 32" aria-hidden="true">
      {MARKS[kind]}
    </svg>
  )
}
