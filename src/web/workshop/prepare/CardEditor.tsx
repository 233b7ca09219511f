import { useEffect, useRef, useState } from 'react'
import { cellName } from '../../../charts/kit-card.ts'
import { CARD_SHAPES, type CardPlace, type CardShape } from '../../../domain/workshop/kit.ts'
import { KIT_LIMITS } from '../../../domain/workshop/kit-issues.ts'
import { Button } from '../../ui/Button.tsx'
import { Select } from '../../ui/Select.tsx'
import { TextField } from '../../ui/TextField.tsx'
import { KitCardFigure } from './KitCardFigure.tsx'
import { freeCell, type KitDraft } from './kit-draft.ts'

const SHAPE_WORDS: Readonly<Record<CardShape, string>> = {
  box: 'Box',
  round: 'Round',
  slim: 'Slim',
  fold: 'Folded',
  arrow: 'Arrow',
  stack: 'Pile',
}

const upTo = (n: number) => Array.from({ length: n }, (_, i) => i)
const sizes = upTo(KIT_LIMITS.cells).map((i) => ({ value: String(i + 1), label: String(i + 1) }))

export interface CardEditorProps {
  readonly draft: KitDraft
  readonly onChange: (change: Partial<KitDraft>) => void
  readonly problemOf: (field: string) => string | undefined
}

/** The card as rows, one a thing on it, with its picture as it is typed. */
export function CardEditor({ draft, onChange, problemOf }: CardEditorProps) {
  const { places, columns, rows, note, name } = draft
  const [gone, setGone] = useState<{ place: CardPlace; at: number } | null>(null)
  const list = useRef<HTMLOListElement>(null)
  const focusOn = useRef<number | null>(null)
  useEffect(() => {
    if (focusOn.current === null) return
    list.current?.children[focusOn.current]?.querySelector('input')?.focus()
    focusOn.current = null
  })

  const setPlace = (at: number, change: Partial<CardPlace>) =>
    onChange({ places: places.map((place, i) => (i === at ? { ...place, ...change } : place)) })
  const add = () => {
    const place = { label: '', ...freeCell(draft), columns: 1, rows: 1, shape: 'box' } as const
    onChange({ places: [...places, place] })
    focusOn.current = places.length
  }
  const remove = (at: number) => {
    const place = places[at]
    if (place === undefined) return
    setGone({ place, at })
    onChange({ places: places.filter((_, i) => i !== at) })
    focusOn.current = Math.min(at, places.length - 2)
  }
  const putBack = () => {
    if (gone === null) return
    onChange({ places: places.toSpliced(gone.at, 0, gone.place) })
    focusOn.current = gone.at
    setGone(null)
  }
  const card = { columns, rows, places, note }

  return (
    <div className="card-editor">
      <div className="card-editor-picture">
        <KitCardFigure card={card} name={name.trim() || 'this kit'} />
      </div>
      <div className="stack fill">
        <div className="row">
          <Select
            className="narrow"
            label="Columns"
            value={String(columns)}
            options={sizes}
            onChange={(value) => onChange({ columns: Number(value) })}
            error={problemOf('card:columns')}
          />
          <Select
            className="narrow"
            label="Rows"
            value={String(rows)}
            options={sizes}
            onChange={(value) => onChange({ rows: Number(value) })}
            error={problemOf('card:rows')}
          />
        </div>
        <ol className="bare card-things" ref={list}>
          {places.map((place, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a thing is what stands in its row
            <li key={i}>
              <ThingRow
                place={place}
                at={i}
                problemOf={problemOf}
                onChange={(change) => setPlace(i, change)}
                onRemove={() => remove(i)}
              />
            </li>
          ))}
        </ol>
        {problemOf('card:places') && <p className="field-error">{problemOf('card:places')}</p>}
        <div className="row">
          <Button onClick={add}>Add a thing</Button>
          {gone !== null && (
            <Button look="quiet" onClick={putBack}>
              {`Put “${gone.place.label || 'thing without a name'}” back`}
            </Button>
          )}
        </div>
        <TextField
          label="Note under the picture"
          hint="What the picture cannot show, such as which side is up."
          optional
          value={note}
          onChange={(value) => onChange({ note: value })}
          error={problemOf('card:note')}
        />
      </div>
    </div>
  )
}

interface ThingRowProps {
  readonly place: CardPlace
  readonly at: number
  readonly problemOf: CardEditorProps['problemOf']
  readonly onChange: (change: Partial<CardPlace>) => void
  readonly onRemove: () => void
}

function ThingRow({ place, at, problemOf, onChange, onRemove }: ThingRowProps) {
  const which = place.label.trim() || `thing ${at + 1}`
  const of = (part: string) => problemOf(`card:place:${at}:${part}`)
  const label = (text: string) => (
    <>
      {text}
      <span className="hidden-text">{` of ${which}`}</span>
    </>
  )
  const number = (text: string, part: 'columns' | 'rows') => (
    <Select
      className="narrow"
      label={label(text)}
      value={String(place[part])}
      options={sizes}
      onChange={(value) => onChange({ [part]: Number(value) })}
      error={of(part)}
    />
  )
  const cells = upTo(KIT_LIMITS.cells)
  return (
    <fieldset className="card-thing">
      <legend className="hidden-text">{`Thing ${at + 1}`}</legend>
      <TextField
        className="thing-label"
        label={`Thing ${at + 1}`}
        value={place.label}
        onChange={(value) => onChange({ label: value })}
        error={of('label')}
      />
      <Select<CardShape>
        className="narrow shape"
        label={label('Shape')}
        value={place.shape}
        options={CARD_SHAPES.map((value) => ({ value, label: SHAPE_WORDS[value] }))}
        onChange={(shape) => onChange({ shape })}
      />
      <Select
        className="narrow"
        label={label('Column')}
        value={String(place.column)}
        options={cells.map((i) => ({ value: String(i), label: cellName(i, 0).slice(0, 1) }))}
        onChange={(value) => onChange({ column: Number(value) })}
        error={of('column')}
      />
      <Select
        className="narrow"
        label={label('Row')}
        value={String(place.row)}
        options={cells.map((i) => ({ value: String(i), label: String(i + 1) }))}
        onChange={(value) => onChange({ row: Number(value) })}
        error={of('row')}
      />
      {number('Wide', 'columns')}
      {number('High', 'rows')}
      <Button look="quiet" className="small" onClick={onRemove}>
        Take away<span className="hidden-text">{` ${which}`}</span>
      </Button>
    </fieldset>
  )
}
