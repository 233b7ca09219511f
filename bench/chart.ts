// One 60-point chart to an SVG string. Twice against bare template strings: painting, against one
// string a mark and nothing else; laying out and painting, against a function that works out the same
// scales, paths and places by hand, without a thought for what overlaps. And React's server renderer.
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

/** The same picture from the same analysis, as somebody would write it for this one chart. */
function byHand(): string {
  const { points, phases, signals } = analysis
  const [left, right, top, bottom] = [56, 1090, 70, 390]
  const times = points.map((p) => Date.parse(p.at))
  const [from, to] = [times[0]!, times.at(-1)!]
  const values = points.flatMap((p) => [p.value, p.lower, p.upper].filter((v) => v !== null))
  const high = Math.ceil(Math.max(0.9, ...values) * 5) / 5
  const round = (n: number) => Math.round(n * 10) / 10
  const x = (t: number) => round(left + 12 + ((t - from) / (to - from)) * (right - left - 24))
  const y = (v: number) => round(bottom - (v / high) * (bottom - top))
  const text = (cls: string, tx: number, ty: number, what: string) =>
    `<text class="${cls}" x="${tx}" y="${ty}" font-size="14">${what.replace(/[&<>]/g, '')}</text>`
  const stepped = (key: 'center' | 'lower' | 'upper', k: number) =>
    points
      .flatMap((p, i) => {
        const value = p[key]
        if (p.phase !== k || value === null) return []
        const [before, after] = [times[i - 1] ?? from, times[i + 1] ?? to]
        return `M${x((before + times[i]!) / 2)},${y(value)}H${x((times[i]! + after) / 2)}`
      })
      .join('')
  const day = (at: string) => {
    const [year, month, date] = at.split('-').map(Number)
    return `${date} ${MONTHS[month! - 1]} ${year}`
  }
  let svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1200 470">`
  svg += `<title>${spec.title}</title>${text('title', 2, 20, spec.title)}${text('sub', 2, 40, spec.subtitle)}`
  for (let v = 0; v <= high + 1e-9; v += 0.2)
    svg += `<path class="grid" d="M${left},${y(v)}H${right}"/>${text('tick', 48, y(v), `${Math.round(v * 100)} %`)}`
  for (let t = from; t <= to; t += (to - from) / 12)
    svg += text('date', x(t), 450, MONTHS[new Date(t).getUTCMonth()]!)
  for (const [k, phase] of phases.entries()) {
    svg += `<path class="limit" d="${stepped('lower', k)}"/><path class="limit" d="${stepped('upper', k)}"/><path class="center" d="${stepped('center', k)}"/>`
    const words = `${Math.round((phase.center ?? 0) * 100)} % · ${day(phase.from)} to ${day(phase.to)}`
    svg += text('phase', x(Date.parse(phase.from)), 62, words)
  }
  svg += `<path class="line" d="M${points.map((p, i) => `${x(times[i]!)},${y(p.value ?? 0)}`).join('L')}"/>`
  for (const [i, p] of points.entries()) {
    if (p.signals.length > 0)
      svg += `<circle class="ring" cx="${x(times[i]!)}" cy="${y(p.value!)}" r="8"/>`
    svg += `<circle class="point" cx="${x(times[i]!)}" cy="${y(p.value ?? 0)}" r="4"/>`
  }
  for (const [k, signal] of signals.entries()) {
    const i = signal.points.at(-1)!
    svg += text('letter', x(times[i]!) + 10, y(points[i]!.value!) - 10, 'abcdefgh'[k]!)
  }
  for (const { number, from: start, to: end, bracket } of spec.tests) {
    const middle = x((Date.parse(start) + Date.parse(end)) / 2)
    svg += `<path class="bracket" d="M${middle - 9},${y(bracket.high)}h18M${middle - 9},${y(bracket.low)}h18M${middle},${y(bracket.high)}V${y(bracket.low)}"/>`
    svg += `<circle class="outcome" cx="${middle}" cy="${y(bracket.outcome)}" r="6"/>${text('number', middle, y(bracket.high) - 7, String(number))}`
    svg += `<path class="tooth" d="M${x(Date.parse(start))},420L${x(Date.parse(end))},400V420Z"/>${text('name', middle, 438, `${number} adapted`)}`
  }
  return `${svg}<path class="goal" d="M1120,${y(spec.goal)}H1092"/>${text('goal', 1125, y(spec.goal), 'goal 90 %')}</svg>`
}
const MONTHS = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ')

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
    { name: 'React server renderer', run: react },
    { name: 'bare, scales and paths by hand', run: byHand },
    { name: 'lay out and paint', run: () => paintSvg(layOutTimeChart(spec)) },
  ],
  60,
  50,
)
const mode = process.env['NODE_ENV'] ?? 'development'
const painting = measured.slice(0, 3)
const all = measured.slice(3)
const what = `One chart of ${POINTS} points, ${chart.marks.length} marks`
printTable(`${what}, painted to an SVG string (React: ${mode})`, painting, painting[0]!.name)
printTable(`${what}, from its analysis to an SVG string`, all, all[0]!.name)
