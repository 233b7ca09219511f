/**
 * Advance widths of Atkinson Hyperlegible in hundredths of an em, for the characters from space to
 * tilde, measured from the hmtx tables of the two fonts (1,000 units an em).
 */
// biome-ignore format: a table
const REGULAR = [
  28, 28, 30, 66, 59, 93, 70, 16, 30, 30, 43, 60, 20, 37, 20, 38, 65, 40, 55, 57, 61, 58, 60, 51,
  62, 60, 20, 20, 55, 60, 55, 52, 78, 63, 62, 66, 67, 57, 55, 71, 69, 41, 51, 63, 54, 82, 69, 73,
  60, 75, 62, 60, 56, 69, 59, 84, 62, 60, 61, 32, 38, 32, 55, 40, 27, 53, 57, 50, 56, 54, 31, 56,
  55, 28, 25, 49, 24, 84, 55, 55, 57, 58, 34, 47, 32, 54, 44, 65, 46, 43, 46, 32, 23, 32, 56,
]
// biome-ignore format: a table
const BOLD = [
  32, 28, 41, 78, 62, 98, 70, 22, 37, 37, 43, 62, 24, 37, 24, 44, 65, 45, 59, 60, 63, 61, 63, 54,
  62, 56, 24, 24, 57, 62, 57, 61, 75, 69, 64, 67, 69, 58, 54, 72, 68, 46, 56, 66, 54, 84, 70, 76,
  63, 78, 65, 62, 62, 66, 66, 88, 70, 69, 62, 33, 44, 33, 59, 43, 31, 55, 60, 52, 60, 57, 37, 60,
  57, 32, 26, 57, 31, 89, 57, 57, 60, 60, 37, 53, 38, 57, 53, 72, 53, 52, 52, 37, 23, 37, 53,
]
const NARROW = new Map([
  ['\u00a0', 30],
  ['·', 28],
  ['–', 50],
  ['−', 60],
  ['…', 75],
  ['’', 26],
])
/** Anything else: wide enough for most Latin letters; far-eastern ones are an em wide. */
const OTHER = 65
const FULL_WIDTH_FROM = 0x2e80

/** A page may still show its fallback font, which is a little wider. */
const SAFETY = 1.05

/**
 * Width of one line of text in pixels, estimated from the font's own table, a little on the wide side.
 *
 * @param text One line.
 * @param size Font size in pixels.
 * @param bold Whether it is set in bold.
 *
 * @example
 * textWidth('', 14) // => 0
 */
export function textWidth(text: string, size: number, bold = false): number {
  const table = bold ? BOLD : REGULAR
  let hundredths = 0
  for (const char of text) {
    const code = char.codePointAt(0)!
    hundredths += table[code - 32] ?? NARROW.get(char) ?? (code >= FULL_WIDTH_FROM ? 100 : OTHER)
  }
  return (hundredths / 100) * size * SAFETY
}

/**
 * The text, or as much of its beginning as fits with an ellipsis; `''` where not even three
 * characters fit.
 *
 * @param text  One line.
 * @param width Room in pixels.
 * @param size  Font size in pixels.
 *
 * @example
 * shorten('printer out for three days', 90, 14) // => 'printer out f…'
 */
export function shorten(text: string, width: number, size: number, bold = false): string {
  if (textWidth(text, size, bold) <= width) return text
  const chars = [...text]
  for (let n = chars.length - 1; n >= 3; n--) {
    const cut = `${chars.slice(0, n).join('').trimEnd()}…`
    if (textWidth(cut, size, bold) <= width) return cut
  }
  return ''
}

/**
 * Text broken at spaces into lines that fit; the last line is shortened where `maxLines` is reached.
 *
 * @param text     Running text.
 * @param width    Room in pixels.
 * @param size     Font size in pixels.
 * @param maxLines 1 or more.
 *
 * @example
 * wrapText('Falls with harm', 80, 14, 2) // => ['Falls with', 'harm']
 */
export function wrapText(
  text: string,
  width: number,
  size: number,
  maxLines: number,
  bold = false,
): string[] {
  const words = text.split(/\s+/).filter((word) => word !== '')
  const lines: string[] = []
  let line = ''
  for (const [i, word] of words.entries()) {
    const longer = line === '' ? word : `${line} ${word}`
    if (line === '' || textWidth(longer, size, bold) <= width) {
      line = longer
      continue
    }
    if (lines.length === maxLines - 1) {
      line = [line, ...words.slice(i)].join(' ')
      break
    }
    lines.push(line)
    line = word
  }
  if (line !== '') lines.push(line)
  return lines.map((l) => shorten(l, width, size, bold))
}
