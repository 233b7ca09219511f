import type { CellKey } from './grid-columns.ts'

export interface ProblemListProps {
  readonly problems: readonly {
    readonly index: number
    readonly key: CellKey
    readonly message: string
  }[]
  readonly columnLabel: (key: CellKey) => string
  readonly onGo: (index: number, key: CellKey) => void
}

const LISTED = 8

/** The cells that stand in the way of saving, each a way to it. */
export function ProblemList({ problems, columnLabel, onGo }: ProblemListProps) {
  return (
    <div className="stack tight">
      <h3>
        {problems.length === 1
          ? '1 cell needs a look before it is saved'
          : `${problems.length.toLocaleString()} cells need a look before they are saved`}
      </h3>
      <ul className="problem-list">
        {problems.slice(0, LISTED).map(({ index, key, message }) => (
          <li key={`${index}-${key}-${message}`}>
            <button type="button" className="as-link" onClick={() => onGo(index, key)}>
              Row {index + 1}, {columnLabel(key)}
            </button>
            : {message}
          </li>
        ))}
      </ul>
      {problems.length > LISTED && (
        <p className="small soft">and {(problems.length - LISTED).toLocaleString()} more</p>
      )}
    </div>
  )
}
