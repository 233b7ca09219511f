import { differs, OWN, type Rule } from './guard-rule.ts'

/** How a trial was timed and inspected, and which moves were made, stays as it was. */
export const WORKSHOP_RULES: readonly Rule[] = [
  ...(['reading', 'inspection'] as const).flatMap((table): Rule[] => [
    {
      name: `${table}_no_delete`,
      table,
      event: 'DELETE',
      when: `EXISTS (SELECT 1 FROM {trial} t JOIN {cycle} c ON c."id" = t."cycleId"
        WHERE t."id" = OLD."trialId" AND ${OWN})`,
      message: `${table === 'reading' ? 'a reading' : 'an inspection'} cannot be deleted`,
    },
    {
      name: `${table}_no_replace`,
      table,
      event: 'INSERT',
      when: `EXISTS (SELECT 1 FROM {${table}} x WHERE x."id" = NEW."id")`,
      message: `${table === 'reading' ? 'a reading' : 'an inspection'} cannot be replaced`,
    },
  ]),
  {
    name: 'reading_fixed',
    table: 'reading',
    event: 'UPDATE',
    when: differs(['trialId', 'seatId', 'by', 'seconds', 'how', 'note']),
    message: 'what a timer read cannot be changed',
  },
  {
    name: 'inspection_fixed',
    table: 'inspection',
    event: 'UPDATE',
    when: differs(['trialId', 'seatId']),
    message: 'whose inspection it is cannot be changed',
  },
  {
    name: 'room_move_no_update',
    table: 'roomMove',
    event: 'UPDATE',
    when: null,
    message: 'a move cannot be changed',
  },
  {
    name: 'room_move_no_delete',
    table: 'roomMove',
    event: 'DELETE',
    when: `EXISTS (SELECT 1 FROM {room} r JOIN {unit} u ON u."id" = r."unitId"
      WHERE r."id" = OLD."roomId" AND u."origin" <> 'example')`,
    message: 'a move cannot be deleted',
  },
  {
    name: 'room_move_no_replace',
    table: 'roomMove',
    event: 'INSERT',
    when: `EXISTS (SELECT 1 FROM {roomMove} x WHERE x."id" = NEW."id")`,
    message: 'a move cannot be replaced',
  },
]
