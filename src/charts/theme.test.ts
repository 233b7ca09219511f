import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { ROLE_PAINT } from './paint-roles.ts'
import { DARK, LIGHT, MARK_COLORS, TEXT_COLORS } from './theme.ts'

/** WCAG 2.2, relative luminance: https://www.w3.org/TR/WCAG22/#dfn-relative-luminance */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!
}

/** WCAG 2.2, contrast ratio: (L1 + 0.05) / (L2 + 0.05). */
function contrast(a: string, b: string): number {
  const [dark, light] = [luminance(a), luminance(b)].sort((x, y) => x - y)
  return (light! + 0.05) / (dark! + 0.05)
}

describe.each([
  ['light', LIGHT],
  ['dark', DARK],
])('the %s set', (_, theme) => {
  it.each(TEXT_COLORS)('reads %s as text on paper and wash at 4.5:1 (WCAG 1.4.3)', (role) => {
    expect(contrast(theme[role], theme.paper)).toBeGreaterThanOrEqual(4.5)
    expect(contrast(theme[role], theme.wash)).toBeGreaterThanOrEqual(4.5)
  })

  it.each(MARK_COLORS)('shows %s as a mark on paper at 3:1 (WCAG 1.4.11)', (role) => {
    expect(contrast(theme[role], theme.paper)).toBeGreaterThanOrEqual(3)
  })
})

it('knows the contrast of black on white (WCAG: 21:1)', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10)
})

it('draws text and marks only in colours that are checked', () => {
  for (const [role, paint] of Object.entries(ROLE_PAINT)) {
    // Decoration: the edges of a band carry its meaning, as the outline of a shape does.
    if (role === 'grid' || role === 'band') continue
    const isText = /text|title|letter/.test(role)
    if (isText) expect(TEXT_COLORS, role).toContain(paint.fill)
    else {
      const colors = [paint.fill, paint.stroke].filter(
        (c) => c !== null && c !== 'paper' && c !== 'wash',
      )
      expect(colors.length, role).toBeGreaterThan(0)
      for (const color of colors) expect(MARK_COLORS, role).toContain(color)
    }
  }
})

it('has a class in the style sheet of the page for every colour that marks are drawn in', () => {
  const css = readFileSync(new URL('../web/chart/chart.css', import.meta.url), 'utf8')
  for (const { fill, stroke } of Object.values(ROLE_PAINT)) {
    if (fill !== null)
      expect(css).toContain(`.chart-fill-${fill} {\n  fill: var(--${fill}, ${LIGHT[fill]});`)
    if (stroke !== null)
      expect(css).toContain(
        `.chart-stroke-${stroke} {\n  stroke: var(--${stroke}, ${LIGHT[stroke]});`,
      )
  }
})

it('agrees with the colours of the pages', () => {
  const tokens = readFileSync(new URL('../web/styles/tokens.css', import.meta.url), 'utf8')
  for (const [role, color] of Object.entries(LIGHT))
    expect(tokens).toContain(`--${role}: light-dark(${color}, ${DARK[role as keyof typeof DARK]});`)
})
