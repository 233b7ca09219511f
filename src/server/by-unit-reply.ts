import type { ByUnitReply, UnitEffectReply } from '../api/finding-contract.ts'
import type { MeasureRecord } from '../domain/effect-shifts.ts'
import { familiesOf } from '../domain/repeats.ts'
import { type UnitEffect, type UnitsRecord, unitsFinding } from '../domain/unit-effects.ts'
import { unitsText, unitWords } from '../domain/unit-effects-text.ts'

/** What measures did on each of their units, as JSON can carry it: the findings that the page shows. */
export function byUnitReply(measures: readonly MeasureRecord[], record: UnitsRecord): ByUnitReply {
  return {
    projectId: record.project.id,
    measures: familiesOf(measures).map(({ original, repeats }) => {
      const finding = unitsFinding([original, ...repeats], record)
      const { measure, scale, together, stepped, units } = finding
      return {
        measureId: measure.id,
        measureName: measure.name,
        scale,
        together,
        stepped,
        units: units.map(unitReply),
        text: unitsText(finding),
      }
    }),
  }
}

function unitReply(effect: UnitEffect): UnitEffectReply {
  const { measure, unit, start, finding, change, weight } = effect
  const lines = finding?.kind === 'fitted' ? finding : null
  return {
    measureId: measure.id,
    unitId: unit.id,
    unitName: unit.name,
    start:
      start === null
        ? null
        : {
            at: start.shift.at,
            name: start.shift.name,
            testId: start.shift.key,
            source: start.source,
          },
    kind: finding?.kind ?? null,
    claim: lines?.claim ?? null,
    before: finding?.before ?? null,
    after: finding?.after ?? null,
    change,
    distance: change === null ? null : (lines?.lines.early ?? null),
    weight,
    text: unitWords(effect),
  }
}
