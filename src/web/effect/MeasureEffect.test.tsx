import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { Router } from 'wouter'
import { HANDWASHING_FROM, VIENNA_MONTHS } from '../../../tests/reference/vienna-maternity.ts'
import { cycle, decision, measure } from '../../../tests/support/records.ts'
import { MeasureEffect } from './MeasureEffect.tsx'

/** Semmelweis (1861), with the start of handwashing as a locked test. */
const data = {
  measure: measure({ name: 'Mothers who died', better: 'down', unitLabel: 'births' }),
  observations: VIENNA_MONTHS.map((m, i) => ({
    id: `O${i}`,
    measureId: 'M1',
    cycleId: null,
    trialId: null,
    at: m.at,
    value: null,
    numerator: m.deaths,
    denominator: m.births,
    note: '',
    leftOutReason: null,
    version: 1,
  })),
  phases: [],
  annotations: [],
}
const test = {
  cycle: cycle({
    lockedAt: '1847-05-14T08:00:00.000Z',
    lockedById: 'A1',
    ranFrom: HANDWASHING_FROM,
    title: 'Chlorine handwashing',
  }),
  predictions: [],
  decision: decision({ kind: 'adopt' }),
}
const page = (cycles: (typeof test)[]) =>
  renderToStaticMarkup(
    <Router ssrPath="/">
      <MeasureEffect data={data} cycles={cycles} chosen={undefined} onChoose={() => {}} />
    </Router>,
  )

it('shows the finding, both pictures and what to be careful with', () => {
  const html = page([test])
  expect(html).toContain('Mothers who died: better than its earlier line carried on.')
  expect(html).toContain('data-role="projection"')
  expect(html).toContain('data-role="span"')
  expect(html).toContain('How far each point of Mothers who died lies from the fitted line')
  expect(html).toContain('Durbin–Watson 0.81')
  expect(html).toContain('There is no comparison group')
  expect(html).toContain('aria-keyshortcuts="T"')
})

it('says that there is no date to look from before a test has started', () => {
  expect(page([])).toContain('there is no date to look from')
})
