import { afterAll, beforeAll, expect, it } from 'vitest'
import { byUnitReply } from '../src/api/by-unit.ts'
import type { MeasureData } from '../src/api/contract.ts'
import { findingsReply } from '../src/api/findings.ts'
import { studyOf } from '../src/domain/finding.ts'
import { findingText, studyLimits } from '../src/domain/finding-text.ts'
import { familiesOf } from '../src/domain/repeats.ts'
import { suggestDecision } from '../src/domain/suggestion.ts'
import { unitsFinding } from '../src/domain/unit-effects.ts'
import { unitsText, unitWords } from '../src/domain/unit-effects-text.ts'
import { openApiDocument } from '../src/server/openapi-document.ts'
import { onBothEngines } from './support/engines.ts'
import { sampleId } from './support/sample-record.ts'
import { type Browser, startTestServer, type TestServer } from './support/server-client.ts'

onBothEngines('the findings of a test', ({ place }) => {
  let server: TestServer
  let viewer: Browser
  let tests: { cycle: { id: string; ranFrom: string | null } }[]

  beforeAll(async () => {
    server = await startTestServer(await place())
    const owner = await server.as('owner')
    viewer = await server.as('viewer')
    await owner.send('POST', '/api/example')
    const { body } = await viewer.send('GET', '/api/units')
    tests = []
    for (const { id } of body.projects)
      tests.push(...(await viewer.send('GET', `/api/projects/${id}`)).body.cycles)
  })
  afterAll(() => server.close())

  it('are the ones that the page of each test shows, figures and sentences', async () => {
    expect(tests.length).toBeGreaterThan(5)
    let claims = 0
    for (const { cycle } of tests) {
      const { status, body } = await viewer.send('GET', `/api/cycles/${cycle.id}/findings`)
      expect(status).toBe(200)
      const { body: page } = await viewer.send('GET', `/api/cycles/${cycle.id}`)
      const study = studyOf(page, page.measures, page.siblings)
      expect(body.cycleId).toBe(cycle.id)
      expect(body.findings.map((f: { text: unknown }) => f.text)).toEqual(
        study.findings.map(findingText),
      )
      expect(body.limits).toEqual(studyLimits(study))
      expect(body.suggestion).toEqual(suggestDecision(study))
      for (const [i, { change, verdict, outcome, measure }] of study.findings.entries()) {
        expect(body.findings[i]).toMatchObject({ verdict, outcome, measureName: measure.name })
        expect(body.findings[i].change?.estimate ?? null).toEqual(change?.estimate ?? null)
        if (change?.claim != null) claims++
      }
    }
    expect(claims).toBeGreaterThan(0)
  })

  it('keep to the schema that the description gives', async () => {
    for (const { cycle } of tests) {
      const { body } = await viewer.send('GET', `/api/cycles/${cycle.id}/findings`)
      expect(findingsReply.parse(body)).toEqual(body)
    }
    const { paths, components } = openApiDocument() as {
      paths: Record<string, object>
      components: { schemas: Record<string, object> }
    }
    expect(paths).toHaveProperty(['/api/cycles/{id}/findings', 'get'])
    expect(components.schemas).toHaveProperty(['Finding'])
  })

  it('of a measure on several units are the ones of the effect page, by unit', async () => {
    const { body: all } = await viewer.send('GET', '/api/units')
    const found = []
    for (const { id } of all.projects) {
      const { status, body } = await viewer.send('GET', `/api/projects/${id}/by-unit`)
      expect(status).toBe(200)
      expect(byUnitReply.parse(body)).toEqual(body)
      const { body: page } = await viewer.send('GET', `/api/projects/${id}`)
      const shown = familiesOf<MeasureData>(page.measures).map(({ original, repeats }) =>
        unitsFinding([original, ...repeats], page),
      )
      expect(body.measures.map((m: { text: unknown }) => m.text)).toEqual(shown.map(unitsText))
      for (const [i, finding] of shown.entries()) {
        const { units, together } = body.measures[i]
        expect(together).toEqual(finding.together)
        expect(units.map((u: { text: unknown }) => u.text)).toEqual(finding.units.map(unitWords))
      }
      found.push(...body.measures)
    }
    // The invented hospital has one: three units, each with a start of its own.
    expect(found).toHaveLength(1)
    expect(found[0]).toMatchObject({
      scale: 'logit',
      stepped: 'each-moved',
      together: { n: 3, claim: 'better', differ: false },
    })
    const nowhere = await viewer.send('GET', `/api/projects/${sampleId('X', 9)}/by-unit`)
    expect(nowhere.status).toBe(404)
  })

  it('need a sign-in, and a test that is there', async () => {
    const stranger = server.browser()
    await stranger.open()
    const path = `/api/cycles/${tests[0]!.cycle.id}/findings`
    expect((await stranger.send('GET', path)).body.code).toBe('auth.needed')
    const none = await viewer.send('GET', `/api/cycles/${sampleId('X', 9)}/findings`)
    expect(none.status).toBe(404)
  })
})
