import type { Kit } from '../domain/workshop/kit.ts'
import { LayoutCard } from './LayoutCard.tsx'

/** What the table is asked to do and when the clock runs; the card on demand, as not all may see it. */
export function TaskView({ kit, open = true }: { kit: Kit; open?: boolean }) {
  return (
    <>
      <details open={open}>
        <summary>The task: {kit.name}</summary>
        <ol>
          {kit.task.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ol>
        <p>{kit.clockStarts}</p>
        <p>{kit.clockStops}</p>
      </details>
      <details>
        <summary>Layout card</summary>
        <LayoutCard card={kit.card} />
      </details>
    </>
  )
}
