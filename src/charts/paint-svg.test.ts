import { expect, it } from 'vitest'
import { sampleSpec } from '../../tests/support/chart-samples.ts'
import { analyze } from '../stats/analyze.ts'
import { escapeXml, paintSvg } from './paint-svg.ts'
import { layOutRamp } from './ramp.ts'
import { layOutSmallChart } from './small-chart.ts'
import { DARK } from './theme.ts'
import { layOutTimeChart } from './time-chart.ts'

const rows = analyze(
  { at: ['1', '2', '3', '4', '5'], values: [96, 71, null, 58, 44] },
  { kind: 'run', better: 'down' },
)

it('paints a small run chart', () => {
  const chart = layOutTimeChart({
    title: 'Time to lay the tray',
    analysis: rows,
    format: 'duration',
    goal: 45,
    width: 360,
  })
  expect(paintSvg(chart)).toMatchSnapshot()
})

it('paints a chart with phases, signals, tests and an event', () => {
  expect(paintSvg(layOutTimeChart(sampleSpec(900)))).toMatchSnapshot()
})

it('paints a chart the size of a sentence', () => {
  const chart = layOutSmallChart({ title: 'Tray', analysis: rows, format: 'duration', width: 240 })
  expect(paintSvg(chart)).toMatchSnapshot()
})

it('paints a ramp with a branch that was abandoned', () => {
  const bracket = { low: 40, high: 60, expected: 50, outcome: 55 }
  const base = { label: 'A change', from: null, to: null, bracket }
  const ramp = layOutRamp({
    title: 'Tray',
    format: 'duration',
    better: 'down',
    width: 480,
    tests: [
      { ...base, id: 'a', number: 1, mark: 'adapt', buildsOn: null },
      { ...base, id: 'b', number: 2, mark: 'abandon', buildsOn: 'a' },
      { ...base, id: 'c', number: 3, mark: 'adopt', buildsOn: 'a' },
    ],
  })
  expect(paintSvg(ramp)).toMatchSnapshot()
})

it('takes its colours from the theme alone', () => {
  const svg = paintSvg(layOutTimeChart(sampleSpec()), DARK)
  const colors = new Set([...svg.matchAll(/#[0-9a-f]{6}/g)].map(([color]) => color))
  for (const color of colors) expect(Object.values(DARK)).toContain(color)
})

it('carries title and description, and nothing that could run or style', () => {
  const svg = paintSvg(layOutTimeChart(sampleSpec()), undefined, {
    title: 'A <b> & "c"',
    description: 'All of it',
  })
  expect(svg).toContain('<title>A &lt;b&gt; &amp; &quot;c&quot;</title><desc>All of it</desc>')
  expect(svg).not.toMatch(/<style|<script|style=|onload/)
})

it('replaces what XML cannot hold', () => {
  expect(escapeXml('a\u0000b\u0008c\ud800d\ufffee\tf')).toBe('a\ufffdb\ufffdc\ufffdd\ufffde\tf')
  expect(escapeXml('emoji 😀 stays')).toBe('emoji 😀 stays')
})
