import { Button } from '../ui/Button.tsx'
import { Dialog } from '../ui/Dialog.tsx'
import type { GridColumn } from './grid-columns.ts'
import type { PastePreview } from './paste-preview.ts'

export interface PasteDialogProps {
  readonly preview: PastePreview
  readonly columns: readonly GridColumn[]
  /** Row of the grid that the block begins at, from 1. */
  readonly firstRow: number
  readonly onPut: () => void
  readonly onClose: () => void
}

const SHOWN = 8

const rowsText = (count: number) => (count === 1 ? '1 row' : `${count.toLocaleString()} rows`)

/** Shows what a pasted block was taken for before it goes into the grid. */
export function PasteDialog({ preview, columns, firstRow, onPut, onClose }: PasteDialogProps) {
  const { block, header, keys, spare, over, readings } = preview
  const wrong = readings.filter(({ issues }) => issues.length > 0).length
  const labels = keys.map((key) => columns.find((column) => column.key === key)!.label)
  return (
    <Dialog
      wide
      title={`Paste ${rowsText(block.length)} from row ${firstRow}`}
      onClose={onClose}
      actions={
        <>
          <Button look="main" onClick={onPut}>
            Put {rowsText(block.length)} into the grid
          </Button>
          <Button onClick={onClose}>Leave it</Button>
        </>
      }
    >
      <ul>
        {header !== null && (
          <li>The first line holds names and is left out: {header.join(', ')}.</li>
        )}
        {spare > 0 && (
          <li>
            {spare === 1 ? 'The last column has' : `The last ${spare} columns have`} no place in
            this grid and {spare === 1 ? 'is' : 'are'} left out.
          </li>
        )}
        {over > 0 && <li>{rowsText(over)} that hold data are written over. You can undo that.</li>}
        <li>
          {wrong === 0
            ? 'Every row can be read.'
            : `${rowsText(wrong)} cannot be saved as they stand. They go in and are marked, so that you can put them right.`}
        </li>
      </ul>
      <div className="table-scroll">
        <table className="plain-table">
          <thead>
            <tr>
              {labels.map((label) => (
                <th key={label} scope="col">
                  {label}
                </th>
              ))}
              <th scope="col">Remarks</th>
            </tr>
          </thead>
          <tbody>
            {block.slice(0, SHOWN).map((texts, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: rows of a fixed text.
              <tr key={i}>
                {keys.map((key, j) => (
                  <td key={key}>{texts[j] ?? ''}</td>
                ))}
                <td className="problem">{readings[i]?.issues[0]?.message ?? ''}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {block.length > SHOWN && (
        <p className="small soft">and {rowsText(block.length - SHOWN)} more</p>
      )}
    </Dialog>
  )
}
