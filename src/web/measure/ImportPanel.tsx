import { type DragEvent, useEffect, useRef, useState } from 'react'
import type { ImportPreview, ImportRequest } from '../../api/import-contract.ts'
import type { Measure } from '../../domain/record.ts'
import type { AppError } from '../../errors.ts'
import { asAppError, call } from '../lib/api.ts'
import { Button } from '../ui/Button.tsx'
import { Dialog } from '../ui/Dialog.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { RadioCards } from '../ui/RadioCards.tsx'
import { Select } from '../ui/Select.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { columnsOf } from './grid-columns.ts'
import { ImportPreviewView } from './ImportPreviewView.tsx'

export interface ImportPanelProps {
  readonly measure: Measure
  readonly onClose: () => void
  readonly onImported: (count: number) => void
}

type Duplicates = 'skip' | 'replace'
type Columns = NonNullable<ImportRequest['columns']>

/** Longer texts are not typed into the box, where they would only slow it down. */
const MOST_SHOWN = 20_000
const PAUSE = 350

/** Takes a CSV file or pasted cells, shows what was read, and imports nothing until it is right. */
export function ImportPanel({ measure, onClose, onImported }: ImportPanelProps) {
  const [text, setText] = useState('')
  const [fileName, setFileName] = useState<string | null>(null)
  const [columns, setColumns] = useState<Columns>({})
  const [dateOrder, setDateOrder] = useState<ImportRequest['dateOrder']>()
  const [preview, setPreview] = useState<ImportPreview | null>(null)
  const [duplicates, setDuplicates] = useState<Duplicates | null>(null)
  const [error, setError] = useState<AppError | null>(null)
  const [working, setWorking] = useState<'reading' | 'importing' | null>(null)
  const [asked, setAsked] = useState(false)
  const [over, setOver] = useState(false)
  const file = useRef<HTMLInputElement>(null)
  const fields = columnsOf(measure)

  const request: ImportRequest = {
    text,
    ...(Object.keys(columns).length === 0 ? {} : { columns }),
    ...(dateOrder === undefined ? {} : { dateOrder }),
  }
  const turn = useRef(0)
  // biome-ignore lint/correctness/useExhaustiveDependencies: these make up the request.
  useEffect(() => {
    if (text.trim() === '') {
      setPreview(null)
      return
    }
    const mine = ++turn.current
    setWorking('reading')
    const timer = setTimeout(async () => {
      try {
        const answer = await call('POST /api/measures/:id/import/preview', {
          params: { id: measure.id },
          body: request,
        })
        if (mine !== turn.current) return
        setPreview(answer)
        setError(null)
      } catch (thrown) {
        if (mine !== turn.current) return
        setPreview(null)
        setError(asAppError(thrown))
      }
      setWorking(null)
    }, PAUSE)
    return () => clearTimeout(timer)
  }, [text, columns, dateOrder, measure.id])

  const take = async (chosen: File | undefined) => {
    if (chosen === undefined) return
    setFileName(chosen.name)
    setColumns({})
    setDateOrder(undefined)
    setText(await chosen.text())
  }
  const onDrop = (event: DragEvent) => {
    event.preventDefault()
    setOver(false)
    const dropped = event.dataTransfer.files[0]
    if (dropped !== undefined) void take(dropped)
    else setText(event.dataTransfer.getData('text/plain'))
  }

  const known = preview?.alreadyThere.length ?? 0
  const ready = preview !== null && preview.issues.length === 0 && preview.rows.length > 0
  const rows = preview === null ? 0 : preview.rows.length - (duplicates === 'skip' ? known : 0)

  const run = async () => {
    setAsked(true)
    if (!ready || working !== null || (known > 0 && duplicates === null)) return
    setWorking('importing')
    setError(null)
    try {
      const { imported } = await call('POST /api/measures/:id/import', {
        params: { id: measure.id },
        body: { ...request, duplicates: duplicates ?? 'refuse' },
      })
      onImported(imported)
    } catch (thrown) {
      setError(asAppError(thrown))
      setWorking(null)
    }
  }

  const blocked =
    preview === null
      ? 'Choose a file or paste cells first.'
      : !ready
        ? `Nothing can be imported yet: ${problemText(preview)}.`
        : known > 0 && duplicates === null
          ? 'Say first what to do with the dates that are already here.'
          : ''

  return (
    <Dialog
      wide
      title="Import a file"
      onClose={onClose}
      actions={
        <>
          <Button
            look="main"
            busy={working === 'importing'}
            busyText="Importing…"
            onClick={() => void run()}
          >
            {ready ? `Import ${rows === 1 ? '1 row' : `${rows.toLocaleString()} rows`}` : 'Import'}
          </Button>
          <Button onClick={onClose}>Close</Button>
        </>
      }
    >
      <fieldset
        className={over ? 'drop over' : 'drop'}
        onDragOver={(event) => {
          event.preventDefault()
          setOver(true)
        }}
        onDragLeave={() => setOver(false)}
        onDrop={onDrop}
      >
        <legend className="hidden-text">Where the data come from</legend>
        <p>
          A CSV file with {fields.map((f) => f.label.toLowerCase()).join(', ')}. Drop it here,
          choose it, or paste its cells below.
        </p>
        <input
          ref={file}
          type="file"
          className="hidden-text"
          accept=".csv,.tsv,.txt,text/csv,text/plain"
          aria-label="CSV file"
          tabIndex={-1}
          onChange={(event) => void take(event.target.files?.[0])}
        />
        <div className="row">
          <Button onClick={() => file.current?.click()}>Choose a file</Button>
          {fileName !== null && <span>{fileName}</span>}
        </div>
      </fieldset>
      {text.length <= MOST_SHOWN ? (
        <TextArea
          label="Cells"
          hint="The first line may hold the names of the columns."
          className="import-text"
          value={text}
          rows={4}
          onChange={setText}
        />
      ) : (
        <div className="row">
          <span>{Math.round(text.length / 1024).toLocaleString()} KB of text taken in.</span>
          <Button look="quiet" onClick={() => setText('')}>
            Take something else
          </Button>
        </div>
      )}
      <p className="save-line" role="status">
        {working === 'reading' ? 'Reading…' : preview === null ? '' : readText(preview)}
      </p>
      {error !== null && <ErrorNotice error={error} />}
      {preview !== null && preview.header.length > 0 && (
        <div className="import-columns">
          {fields.map(({ key, label }) => (
            <Select
              key={key}
              label={label}
              value={preview.columns[key] ?? ''}
              options={[
                { value: '', label: key === 'note' ? 'none' : 'not found: choose' },
                ...preview.header.map((name) => ({ value: name, label: name })),
              ]}
              onChange={(name) => {
                const { [key]: _, ...others } = columns
                setColumns(name === '' ? others : { ...others, [key]: name })
              }}
            />
          ))}
        </div>
      )}
      {preview !== null && (dateOrder !== undefined || asksDateOrder(preview)) && (
        <RadioCards<'day-first' | 'month-first'>
          legend="In dates such as 03/04/2026, what comes first?"
          across
          value={dateOrder ?? null}
          choices={[
            { value: 'day-first', label: 'The day', hint: '3 April' },
            { value: 'month-first', label: 'The month', hint: 'March 4' },
          ]}
          onChange={setDateOrder}
        />
      )}
      {preview !== null && <ImportPreviewView preview={preview} measure={measure} />}
      {ready && known > 0 && (
        <RadioCards<Duplicates>
          legend={`${known === 1 ? '1 row has a date' : `${known.toLocaleString()} rows have dates`} this measure already holds`}
          error={asked && duplicates === null ? 'Choose one.' : null}
          value={duplicates}
          choices={[
            {
              value: 'skip',
              label: 'Keep what is here',
              hint: 'Those rows of the file are skipped.',
            },
            { value: 'replace', label: 'Replace it', hint: 'The rows of the file take its place.' },
          ]}
          onChange={setDuplicates}
        />
      )}
      {asked && blocked !== '' && (
        <p className="field-error" role="alert">
          {blocked}
        </p>
      )}
    </Dialog>
  )
}

const count = (n: number, one: string, many: string) =>
  n === 1 ? `1 ${one}` : `${n.toLocaleString()} ${many}`

function problemText(preview: ImportPreview): string {
  return preview.issues.length === 0
    ? 'no row was found'
    : `${count(preview.issues.length, 'problem is', 'problems are')} listed below`
}

function readText(preview: ImportPreview): string {
  return preview.issues.length === 0
    ? `${count(preview.rows.length, 'row', 'rows')} read without a problem.`
    : `${count(preview.issues.length, 'problem', 'problems')} found. Nothing is imported until they are gone.`
}

function asksDateOrder(preview: ImportPreview): boolean {
  return preview.issues.some(({ code }) => code === 'import.date_order')
}
