import type { TestMark } from '../../charts/spec.ts'

const WIDTH = 40
const HEIGHT = 24

/** One tooth of the rail, standing on the line at the bottom of its box. Said in words beside it. */
export function Tooth({ mark }: { readonly mark: TestMark }) {
  const rise = `M2 ${HEIGHT - 1}L${WIDTH - 2} 2V${HEIGHT - 1}Z`
  return (
    <svg
      className={`tooth tooth-${mark}`}
      viewBox={`0 0 ${WIDTH} ${HEIGHT + 14}`}
      width={WIDTH}
      height={HEIGHT + 14}
      aria-hidden="true"
    >
      {mark === 'abandon' ? (
        <path d={`M10 ${HEIGHT}l10 12l10 -12Z`} />
      ) : mark === 'planned' ? (
        <path d={`M2 ${HEIGHT - 1}L${WIDTH - 2} 2V${HEIGHT - 1}`} />
      ) : (
        <path d={rise} />
      )}
      <path className="tooth-rail" d={`M0 ${HEIGHT}H${WIDTH}`} />
    </svg>
  )
}
