import { AppError } from '../../errors.ts'

// What a workshop says no to, in words.

export const closedRoom = () =>
  new AppError('room.closed', 'This workshop is closed.', 'Ask the facilitator to open it again.')

export const removedTable = (name: string) =>
  new AppError(
    'room.table_removed',
    `The facilitator has taken the table ${name} out of the workshop.`,
    'Ask the facilitator, or join another table.',
  )

export const takenName = (name: string) =>
  new AppError(
    'room.table_name',
    `There is a table called ${name} already.`,
    'Choose another name.',
    { issues: [{ code: 'room.table_name', field: 'name', message: 'Is in use already.' }] },
  )

export const noTableName = () =>
  new AppError(
    'room.table_name',
    'A table needs a name.',
    'Give one, such as a bird or a colour.',
    {
      issues: [{ code: 'room.table_name', field: 'tableName', message: 'Give the table a name.' }],
    },
  )

export const notYours = (kind: string) =>
  new AppError(
    'room.not_yours',
    `A phone cannot do this (${kind}); it is for the facilitator.`,
    'Ask the facilitator.',
    { kind },
  )
