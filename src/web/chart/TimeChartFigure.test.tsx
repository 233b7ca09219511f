import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import type { ChartTest } from '../../charts/spec.ts'
import { analyze } from '../../stats/analyze.ts'
import { RampFigure } from './RampFigure.tsx'
import { SmallChart } from './SmallChart.tsx'
import { TimeChartFigure } from './TimeChartFigure.tsx'

const values = [96, 110, 88, 120, 101, 92, 71, null, 70, 77, 90, 61, 44, 62, 58, 41]
const at = values.map((_, i) => `2026-03-${String(i + 1).padStart(2, '0')}`)
const analysis = analyze({ at, values }, { kind: 'run', ruleSet: 'run-classic', better: 'down' })
const tests: ChartTest[] = [
  {
    id: 'card',
    number: 1,
    label: 'Tray from a card',
    mark: 'adapt',
    from: '2026-03-09',
    to: '2026-03-11',
    bracket: { low: 60, high: 80, expected: 70, outcome: 77 },
  },
]
const common = {
  title: 'Time to lay the tray',
  analysis,
  format: 'duration',
  better: 'down',
} as const
const draw = (more: object = {}) =>
  renderToStaticMarkup(<TimeChartFigure {...common} tests={tests} {...more} />)

describe('TimeChartFigure', () => {
  it('has one labelled target a point, of which one is a Tab stop', () => {
    const html = draw()
    expect(html.match(/data-point=/g)).toHaveLength(values.length)
    expect(html.match(/<g role="img"[^>]*tabindex="0"/g)).toHaveLength(1)
    expect(html).toContain('aria-label="1 Mar 2026: 1:36;')
    expect(html).toContain('aria-label="8 Mar 2026: no value;')
  })

  it('stays light with thousands of points, and Tab still reaches one', () => {
    const at = Array.from({ length: 5000 }, (_, i) =>
      new Date(Date.UTC(2010, 0, 1 + i)).toISOString().slice(0, 10),
    )
    const long = analyze({ at, values: at.map((_, i) => (i * 7) % 11) }, { kind: 'run' })
    const html = draw({ analysis: long, tests: [] })
    expect(html.match(/data-point=/g)!.length).toBeLessThan(10)
    expect(html.match(/<g role="img"[^>]*tabindex="0"/g)).toHaveLength(1)
  })

  it('folds a long list of signals to the newest, and says how many there are', () => {
    const one = analysis.signals[0]!
    const html = draw({ analysis: { ...analysis, signals: Array(40).fill(one) } })
    expect(html).toContain('40 signals')
    expect(html).toContain('Show all 40')
    const letters = [...html.matchAll(/<span class="chart-letter">([a-z]+)<\/span>/g)]
    expect(letters.map((match) => match[1])).toEqual(['aj', 'ak', 'al', 'am', 'an'])
  })

  it('is described in words that name chart, signals and tests', () => {
    const html = draw()
    const words = /<p id="([^"]+)-words" class="chart-unseen">([^<]+)<\/p>/.exec(html)!
    expect(html).toContain(`aria-describedby="${words[1]}-words"`)
    expect(words[2]).toContain(
      'Run chart of “Time to lay the tray”: 16 points, 1 Mar to 16 Mar 2026',
    )
    expect(words[2]).toContain('Test 1, adapted: Tray from a card')
    const letters = [...html.matchAll(/<span class="chart-letter">([a-z]+)<\/span>/g)]
    expect(analysis.signals.length).toBeGreaterThan(0)
    expect(letters.map((match) => match[1])).toEqual(analysis.signals.map((_, i) => 'abcdef'[i]))
  })

  it('opens tests with buttons only where somebody listens', () => {
    expect(draw()).not.toContain('role="button"')
    expect(draw({ onOpenTest: () => {} })).toContain(
      '<g role="button" tabindex="0" class="chart-tooth-target" aria-label="Open Test 1, adapted: Tray from a card, 9 Mar to 11 Mar 2026">',
    )
  })

  it('styles nothing inline, so that a strict style policy holds', () => {
    for (const html of [
      draw(),
      renderToStaticMarkup(<SmallChart {...common} />),
      renderToStaticMarkup(
        <RampFigure
          title="Ramp"
          format="duration"
          tests={tests.map((t) => ({ ...t, buildsOn: null }))}
        />,
      ),
    ])
      expect(html).not.toMatch(/style=|<style/)
  })

  it('says what to do where there is no data', () => {
    const html = draw({ analysis: { ...analysis, points: [], phases: [], signals: [] } })
    expect(html).toContain('No data yet.')
    expect(html).not.toContain('<svg')
  })
})
