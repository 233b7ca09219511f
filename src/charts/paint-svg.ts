import type { Mark, MarkRole, Picture } from './marks.ts'
import { ROLE_PAINT } from './paint-roles.ts'
import { LIGHT, type Theme } from './theme.ts'

const FONT_FAMILY = "'Atkinson Hyperlegible', 'Source Sans 3', system-ui, sans-serif"

export interface SvgOptions {
  /** Read out in place of the picture. */
  readonly title: string
  readonly description?: string
  /** Paper around the picture, in pixels. Default 0. */
  readonly margin?: number
}

/**
 * A picture as a complete SVG document, with presentation attributes only: no style sheet, no
 * script, so it can be put anywhere.
 *
 * @param picture Shapes from one of the layouts.
 * @param theme   Colour of each role.
 * @param options Title and description for readers who do not see it.
 */
export function paintSvg(picture: Picture, theme: Theme = LIGHT, options?: SvgOptions): string {
  const { width, height, unit, marks } = picture
  const m = options?.margin ?? 0
  const [w, h] = [width + 2 * m, height + 2 * m]
  let svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${w}" height="${h}" viewBox="${-m} ${-m} ${w} ${h}" font-family="${FONT_FAMILY}"`
  if (options === undefined) svg += '>'
  else {
    svg += ` role="img"><title>${escapeXml(options.title)}</title>`
    if (options.description) svg += `<desc>${escapeXml(options.description)}</desc>`
  }
  svg += `\n<rect x="${-m}" y="${-m}" width="${w}" height="${h}" fill="${theme.paper}"/>`
  // Marks of one role follow each other mostly, so a group says once how they look.
  let role: MarkRole | null = null
  for (const mark of marks) {
    if (mark.role !== role) {
      if (role !== null) svg += '</g>'
      role = mark.role
      svg += `\n<g${groupAttributes(role, theme, unit)}>`
    }
    svg += paintMark(mark)
  }
  return `${svg}${role === null ? '' : '</g>'}\n</svg>\n`
}

function paintMark(mark: Mark): string {
  if (mark.shape === 'circle') return `<circle cx="${mark.cx}" cy="${mark.cy}" r="${mark.r}"/>`
  if (mark.shape === 'path') return `<path d="${mark.d}"/>`
  const anchor = mark.anchor === 'start' ? '' : ` text-anchor="${mark.anchor}"`
  return `<text x="${mark.x}" y="${mark.y}" font-size="${mark.size}"${anchor}>${escapeXml(mark.text)}</text>`
}

function groupAttributes(role: MarkRole, theme: Theme, unit: number): string {
  const paint = ROLE_PAINT[role]
  let s = ` fill="${paint.fill === null ? 'none' : theme[paint.fill]}"`
  if (paint.stroke !== null) {
    s += ` stroke="${theme[paint.stroke]}" stroke-width="${lengthText(paint.strokeWidth * unit)}"`
    if (paint.dash)
      s += ` stroke-dasharray="${paint.dash.map((n) => lengthText(n * unit)).join(' ')}"`
    if (paint.round) s += ' stroke-linecap="round" stroke-linejoin="round"'
    if (paint.halo) s += ' paint-order="stroke"'
  }
  if (paint.bold) s += ' font-weight="700"'
  return s
}

const lengthText = (length: number) => String(Math.round(length * 100) / 100)

const UNSAFE = /[&<>"\ufffe\uffff]|(?![\t\n\r])\p{Cc}|\p{Cs}/gu
const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
}

/**
 * Text as XML holds it; characters that XML forbids become a replacement character.
 *
 * @example
 * escapeXml('a < b & "c"') // => 'a &lt; b &amp; &quot;c&quot;'
 */
export function escapeXml(text: string): string {
  return text.replace(UNSAFE, (char) => ENTITIES[char] ?? '\ufffd')
}
