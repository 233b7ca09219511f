import type { ImportPreview, ImportRequest } from '../../api/import-contract.ts'
import type { Measure, Observation } from '../../domain/record.ts'
import { AppError } from '../../errors.ts'
import { observationsOf } from '../../storage/measures.ts'
import type { Write } from '../../storage/record.ts'
import { type Handlers, newId } from '../call.ts'
import { mustBeValid, observationIssues } from '../check-observation.ts'
import { checkText } from '../text-check.ts'
import { mustFindMeasure } from './measures.ts'

export const importRoutes: Handlers<
  'POST /api/measures/:id/import/preview' | 'POST /api/measures/:id/import'
> = {
  'POST /api/measures/:id/import/preview': async ({ db, params, body }) =>
    preview(db.read, await mustFindMeasure(db.read, params.id), body),

  'POST /api/measures/:id/import': async ({ db, params, body, me, at, textChecked }) =>
    db.record({ action: 'observations.import', by: me, at }, async (write) => {
      const measure = await mustFindMeasure(write.read, params.id)
      const { rows, issues, alreadyThere } = await preview(write.read, measure, body)
      if (issues.length > 0)
        throw new AppError(
          'import.invalid',
          `${issues.length === 1 ? 'One problem stands' : `${issues.length} problems stand`} in the way; nothing was imported.`,
          issues[0]!.message,
          { issues },
        )
      if (!textChecked)
        checkText({ rows: rows.map(({ note }) => ({ note })) }, Number(at.slice(0, 4)))
      mustBeValid(rows.flatMap((row) => observationIssues(measure, row, `row ${row.row}`)))
      if (alreadyThere.length > 0 && body.duplicates === 'refuse')
        throw new AppError(
          'import.duplicates',
          `${alreadyThere.length} of ${rows.length} rows have a date that is in the measure already.`,
          'Skip those rows, or replace what is there.',
          { alreadyThere },
        )
      const known = new Set(alreadyThere)
      if (body.duplicates === 'replace')
        await removeDates(
          write,
          measure,
          rows.filter(({ row }) => known.has(row)).map((row) => row.at),
        )
      const observations: Observation[] = []
      for (const { row, ...values } of rows) {
        if (body.duplicates === 'skip' && known.has(row)) continue
        observations.push(
          await write.insert('observation', {
            ...values,
            id: newId(at),
            measureId: measure.id,
            cycleId: null,
            trialId: null,
            leftOutReason: null,
            version: 1,
          }),
        )
      }
      return { imported: observations.length, observations }
    }),
}

async function preview(
  read: Write['read'],
  measure: Measure,
  request: ImportRequest,
): Promise<ImportPreview> {
  const { readTable } = await import('../../tabular/read-table.ts')
  const { dataKind, valueFormat } = measure
  const { header, columns, rows, issues } = readTable(request.text, {
    dataKind,
    valueFormat,
    ...(request.columns === undefined ? {} : { columns: request.columns }),
    ...(request.dateOrder === undefined ? {} : { dateOrder: request.dateOrder }),
  })
  const known = new Set((await observationsOf(read, measure.id)).map((o) => o.at))
  const alreadyThere = rows.filter((row) => known.has(row.at)).map(({ row }) => row)
  return { header, columns, rows, issues, alreadyThere }
}

async function removeDates(
  write: Write,
  measure: Measure,
  dates: readonly string[],
): Promise<void> {
  const replaced = new Set(dates)
  for (const { id, at } of await observationsOf(write.read, measure.id))
    if (replaced.has(at)) await write.remove('observation', id, null)
}
