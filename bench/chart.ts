// One 60-point chart to an SVG string, against the least that could paint the same marks (one bare
// template string a mark, nothing else) and against React's server renderer.
import { createElement } from 'react'
import { renderToStaticMarkup } from 'react-dom/server'
import type { Mark } from '../src/charts/marks.ts'
import { paintSvg } from '../src/charts/paint-svg.ts'
import type { TimeChartSpec } from '../src/charts/spec.ts'
import { layOutTimeChart } from '../src/charts/time-chart.ts'
import { analyze } from '../src/stats/analyze.ts'
import { interleave, printTable } from './measure.ts'

const POINTS = 60
const day = (i: number) => new Date(Date.UTC(2025, 0, 6 + 7 * i)).toISOString().slice(0, 10)
const at = Array.from({ length: POINTS }, (_, i) => day(i))
const analysis = analyze(
  {
    at,
    numerators: at.map((_, i) => 18 + ((i * 7) % 9) + (i > 40 ? 12 : 0)),
    denominators: at.map((_, i) => 40 + ((i * 5) % 7)),
  },
  { kind: 'p', better: 'up', phases: [{ at: at[0]!, frozenThrough: at[24]! }, { at: at[41]! }] },
)
const spec = {
  title: 'Sixty weeks of an invented ward',
  subtitle: 'Better is up.',
  analysis,
  format: 'percent' as const,
  goal: 0.9,
  width: 1200,
  tests: [10, 22, 34, 41].map((week, k) => ({
    id: `t${k}`,
    number: k + 1,
    label: 'A change',
    mark: 'adapt' as const,
    from: at[week]!,
    to: at[week + 2]!,
    bracket: { low: 0.5, high: 0.8, expected: 0.65, outcome: 0.6 },
  })),
} satisfies TimeChartSpec
const chart = layOutTimeChart(spec)

function bareMark(mark: Mark): string {
  if (mark.shape === 'circle')
    return `<circle class="${mark.role}" cx="${mark.cx}" cy="${mark.cy}" r="${mark.r}"/>`
  if (mark.shape === 'path') return `<path class="${mark.role}" d="${mark.d}"/>`
  return `<text class="${mark.role}" x="${mark.x}" y="${mark.y}" font-size="${mark.size}" text-anchor="${mark.anchor}">${mark.text}</text>`
}

function bare(): string {
  let svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${chart.width} ${chart.height}">`
  for (const mark of chart.marks) svg += bareMark(mark)
  return `${svg}</svg>`
}

function element(mark: Mark, key: number) {
  const { role: className } = mark
  if (mark.shape === 'circle') {
    const { cx, cy, r } = mark
    return createElement('circle', { key, className, cx, cy, r })
  }
  if (mark.shape === 'path') return createElement('path', { key, className, d: mark.d })
  const { x, y, size: fontSize, anchor: textAnchor, text } = mark
  return createElement('text', { key, className, x, y, fontSize, textAnchor }, text)
}

function react(): string {
  const viewBox = `0 0 ${chart.width} ${chart.height}`
  return renderToStaticMarkup(createElement('svg', { viewBox }, chart.marks.map(element)))
}

const measured = await interleave(
  [
    { name: 'bare template string', run: bare },
    { name: 'paint', run: () => paintSvg(chart) },
    { name: 'lay out and paint', run: () => paintSvg(layOutTimeChart(spec)) },
    { name: 'React server renderer', run: react },
  ],
  60,
  50,
)
const mode = process.env['NODE_ENV'] ?? 'development'
printTable(
  `One chart of ${POINTS} points, ${chart.marks.length} marks, to an SVG string (React: ${mode})`,
  measured,
  'bare template string',
)
