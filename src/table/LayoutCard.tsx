import type { CardPlace, KitCard } from '../domain/workshop/kit.ts'

/** Cells as on the printed card: columns are letters, rows are numbers. */
const cell = (column: number, row: number) => `${String.fromCharCode(65 + column)}${row + 1}`

function cellsOf({ column, row, columns, rows }: CardPlace): string {
  const from = cell(column, row)
  const to = cell(column + columns - 1, row + rows - 1)
  return from === to ? from : `${from} to ${to}`
}

/**
 * The card of the kit as a grid of the page itself: words keep their size on a narrow phone, and a
 * screen reader reads them in order.
 */
export function LayoutCard({ card }: { card: KitCard }) {
  const { columns, rows, places, note } = card
  const range = (n: number) => Array.from({ length: n }, (_, i) => i)
  const inOrder = [...places].sort((a, b) => a.row - b.row || a.column - b.column)
  return (
    <figure>
      <ul
        class="card"
        style={{
          gridTemplateColumns: `auto repeat(${columns}, minmax(0, 1fr))`,
          gridTemplateRows: `auto repeat(${rows}, minmax(44px, auto))`,
        }}
      >
        {range(columns).map((c) => (
          <li key={`c${c}`} aria-hidden="true" style={{ gridColumn: c + 2, gridRow: 1 }}>
            {cell(c, 0)[0]}
          </li>
        ))}
        {range(rows).map((r) => (
          <li key={`r${r}`} aria-hidden="true" style={{ gridColumn: 1, gridRow: r + 2 }}>
            {r + 1}
          </li>
        ))}
        {inOrder.map((place) => (
          <li
            key={`${cellsOf(place)} ${place.label}`}
            class={place.rows > place.columns ? `${place.shape} tall` : place.shape}
            style={{
              gridColumn: `${place.column + 2} / span ${place.columns}`,
              gridRow: `${place.row + 2} / span ${place.rows}`,
            }}
          >
            <span class="hidden">{cellsOf(place)}: </span>
            {place.label}
            {place.shape === 'arrow' && ' →'}
          </li>
        ))}
      </ul>
      {note !== '' && <figcaption class="small">{note}</figcaption>}
    </figure>
  )
}
