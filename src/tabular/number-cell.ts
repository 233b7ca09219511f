export type DecimalMark = 'point' | 'comma'

/** What a cell says as a number. */
export type NumberReading =
  | { readonly kind: 'missing' }
  | {
      readonly kind: 'number'
      readonly value: number
      readonly percent: boolean
      /** Set where the cell shows which mark is the decimal one. */
      readonly mark: DecimalMark | null
    }
  /** One mark before exactly three digits: a thousands mark, or a decimal one. */
  | {
      readonly kind: 'either'
      readonly asPoint: number
      readonly asComma: number
      readonly percent: boolean
    }
  | { readonly kind: 'bad' }

/** Ways to leave a cell empty. */
const MISSING = /^(?:|[-–—.?]|n\/?a|n\.a\.|null|none|nan|missing|not recorded)$/i
const LARGEST = 1e15

/**
 * A number as people write it. A comma may be the decimal mark; thousands may be grouped by comma,
 * point, space or apostrophe. Where a cell alone leaves two readings, both are given.
 *
 * @example
 * readNumber('12,5') // => { kind: 'number', value: 12.5, percent: false, mark: 'comma' }
 */
export function readNumber(cell: string): NumberReading {
  const trimmed = cell.trim()
  if (MISSING.test(trimmed)) return { kind: 'missing' }
  const percent = /\s*%$/.test(trimmed)
  const text = trimmed.replace(/\s*%$/, '').replace(/^[−–]/, '-').replace(/^\+/, '')
  const number = (digits: string, mark: DecimalMark | null): NumberReading => {
    const value = Number(digits)
    return Number.isFinite(value) && Math.abs(value) <= LARGEST
      ? { kind: 'number', value, percent, mark }
      : { kind: 'bad' }
  }

  if (/^-?\d+$/.test(text)) return number(text, null)
  if (/^-?\d*\.?\d+e[-+]?\d+$/i.test(text)) return number(text, null)
  // 1 234 567,8 and 1'234.5: these marks never stand for a decimal.
  if (/^-?\d{1,3}(?:[ \u00a0\u2009\u202f'’]\d{3})+(?:[.,]\d+)?$/.test(text)) {
    const bare = text.replace(/[ \u00a0\u2009\u202f'’]/g, '')
    const mark = bare.includes(',') ? 'comma' : bare.includes('.') ? 'point' : null
    return number(bare.replace(',', '.'), mark)
  }
  // Two different marks, or one mark twice: only one reading is left.
  if (/^-?\d{1,3}(?:,\d{3})+\.\d+$/.test(text) || /^-?\d{1,3}(?:,\d{3}){2,}$/.test(text))
    return number(text.replaceAll(',', ''), 'point')
  if (/^-?\d{1,3}(?:\.\d{3})+,\d+$/.test(text) || /^-?\d{1,3}(?:\.\d{3}){2,}$/.test(text))
    return number(text.replaceAll('.', '').replace(',', '.'), 'comma')
  if (/^-?(?!0)\d{1,3}[,.]\d{3}$/.test(text)) {
    const asDecimal = Number(text.replace(',', '.'))
    const asGroup = Number(text.replace(/[,.]/, ''))
    const isComma = text.includes(',')
    return {
      kind: 'either',
      asPoint: isComma ? asGroup : asDecimal,
      asComma: isComma ? asDecimal : asGroup,
      percent,
    }
  }
  if (/^-?\d*\.\d+$/.test(text) || /^-?\d+\.$/.test(text)) return number(text, 'point')
  if (/^-?\d*,\d+$/.test(text)) return number(text.replace(',', '.'), 'comma')
  return { kind: 'bad' }
}
