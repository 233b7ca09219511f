import type { ReactNode } from 'react'

/** Lines to write on, or what is recorded in their place. */
export function Written({
  label,
  value,
  lines,
}: {
  readonly label: ReactNode
  readonly value: string
  readonly lines: number
}) {
  return (
    <div className="written">
      <p className="written-label">{label}</p>
      {value.trim() === '' ? (
        Array.from({ length: lines }, (_, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the lines are all alike
          <div key={i} className="written-line" />
        ))
      ) : (
        <p className="written-value">{value}</p>
      )}
    </div>
  )
}

/** A box to write a short value in, or the value. */
export function Boxed({ label, value }: { readonly label: string; readonly value: string | null }) {
  return (
    <div className="boxed">
      <p className="boxed-value">{value ?? ''}</p>
      <p className="written-label">{label}</p>
    </div>
  )
}

/** A square to tick: empty, ticked, or crossed. */
export function Tick({ mark }: { readonly mark: boolean | null }) {
  return (
    <svg className="tick-box" viewBox="0 0 14 14" aria-hidden="true">
      <path className="tick-frame" d="M1.5,1.5h11v11h-11Z" />
      {mark === true && <path className="tick-mark" d="M3.5,7.2l2.6,3 4.6,-6" />}
      {mark === false && <path className="tick-mark" d="M4,4l6,6M10,4l-6,6" />}
    </svg>
  )
}
