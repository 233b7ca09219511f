import { afterAll, beforeAll, expect, it } from 'vitest'
import { replies } from '../src/api/replies.ts'
import { onBothEngines } from './support/engines.ts'
import { cycle, measure, observation, prediction } from './support/records.ts'
import { sampleId } from './support/sample-record.ts'
import { type Browser, startTestServer, type TestServer } from './support/server-client.ts'

const AT = '2026-03-02T09:15:00.000Z'

onBothEngines('how predictions came out', ({ place }) => {
  let server: TestServer
  let viewer: Browser
  let member: Browser
  let coach: Browser
  let owner: Browser
  /** Accounts are numbered as they are made. */
  const person = (n: number) => sampleId('Q', n)

  beforeAll(async () => {
    server = await startTestServer(await place())
    viewer = await server.as('viewer')
    member = await server.as('member')
    coach = await server.as('coach')
    owner = await server.as('owner')
    await server.db.record({ action: 'sample', by: null, at: AT }, async (write) => {
      const own = { origin: 'own', version: 1 } as const
      await write.insert('unit', { id: sampleId('T', 1), parentId: null, name: 'House', ...own })
      await write.insert('unit', {
        id: sampleId('T', 2),
        parentId: sampleId('T', 1),
        name: 'Ward 4',
        ...own,
      })
      for (const k of [1, 2, 3]) {
        const projectId = sampleId('J', k)
        await write.insert('project', {
          id: projectId,
          unitId: sampleId('T', Math.min(k, 2)),
          name: `Project ${k}`,
          aim: '',
          leadId: null,
          createdAt: AT,
          ...own,
        })
        const measureId = sampleId('M', k)
        await write.insert('measure', measure({ id: measureId, projectId }))
        const id = sampleId('C', k)
        // The third is a task in a classroom.
        const determination = k === 3 ? 'exercise' : 'improvement'
        await write.insert('cycle', cycle({ id, rampId: id, projectId, determination }))
        await write.insert(
          'prediction',
          prediction({ id: sampleId('R', k), cycleId: id, measureId }),
        )
        // The member locks the first, the coach the second, the owner the third.
        await write.update('cycle', id, null, {
          lockedAt: AT,
          lockedById: person(k + 1),
          ranFrom: '2026-03-02',
          ranTo: '2026-03-15',
        })
        await write.update('cycle', id, null, { doneAt: '2026-03-16T08:00:00.000Z' })
        await write.insert(
          'observation',
          observation({
            id: sampleId('V', k),
            measureId,
            at: '2026-03-09',
            numerator: 30,
            denominator: 40,
          }),
        )
      }
    })
  })
  afterAll(() => server.close())

  const titles = async (browser: Browser, path: string) => {
    const { status, body } = await browser.send('GET', `/api/calibration/${path}`)
    expect(status).toBe(200)
    return body.predictions.map((p: { projectId: string }) => p.projectId)
  }

  it('is shown to a viewer for a project, a unit with those in it, and everybody', async () => {
    expect(await titles(viewer, `projects/${sampleId('J', 1)}`)).toEqual([sampleId('J', 1)])
    expect(await titles(viewer, `units/${sampleId('T', 2)}`)).toEqual([sampleId('J', 2)])
    expect(await titles(viewer, `units/${sampleId('T', 1)}`)).toHaveLength(2)
    expect(await titles(viewer, 'organisation')).toHaveLength(2)
  })

  it('counts exercises apart from tests on care, wherever it is asked', async () => {
    for (const path of [
      'organisation',
      `units/${sampleId('T', 1)}`,
      `units/${sampleId('T', 2)}`,
      `projects/${sampleId('J', 3)}`,
      `people/${person(4)}`,
    ]) {
      const { body } = await owner.send('GET', `/api/calibration/${path}`)
      const projects = (of: { predictions: { projectId: string }[] }) =>
        of.predictions.map((p) => p.projectId)
      expect(projects(body.exercises)).toEqual([sampleId('J', 3)])
      expect(projects(body)).not.toContain(sampleId('J', 3))
    }
    const { body } = await viewer.send('GET', `/api/calibration/projects/${sampleId('J', 1)}`)
    expect(body.exercises).toEqual({ predictions: [], hindsight: 0 })
  })

  it('holds each prediction against its outcome', async () => {
    const { body } = await viewer.send('GET', `/api/calibration/projects/${sampleId('J', 1)}`)
    expect(body).toMatchObject({ name: 'Project 1', hindsight: 0 })
    expect(replies['GET /api/calibration/projects/:id'].parse(body)).toEqual(body)
    expect(body.predictions[0]).toMatchObject({ low: 0.6, high: 0.8, outcome: 0.75, step: 1 })
  })

  it('is shown to the person, who locked the test, and to coaches and owners', async () => {
    for (const browser of [member, coach, owner])
      expect(await titles(browser, `people/${person(2)}`)).toEqual([sampleId('J', 1)])
    expect(await titles(viewer, `people/${person(1)}`)).toEqual([])
  })

  it('is kept from everybody else, whether the person exists or not', async () => {
    for (const [browser, id] of [
      [viewer, person(2)],
      [member, person(3)],
      [member, sampleId('Q', 99)],
    ] as const) {
      const { status, body } = await browser.send('GET', `/api/calibration/people/${id}`)
      expect(status).toBe(403)
      expect(body.code).toBe('calibration.private')
      expect(JSON.stringify(body)).not.toContain('Project')
    }
    const stranger = server.browser()
    await stranger.open()
    const answer = await stranger.send('GET', `/api/calibration/people/${person(2)}`)
    expect(answer.body.code).toBe('auth.needed')
  })

  it('names nobody where it is not about a person', async () => {
    const { body } = await viewer.send('GET', '/api/calibration/organisation')
    const text = JSON.stringify(body)
    for (const n of [1, 2, 3, 4]) expect(text).not.toContain(person(n))
    expect(text).not.toMatch(/lockedBy|member 2|coach 3/)
  })

  it('says what is not there', async () => {
    for (const path of ['people', 'units', 'projects']) {
      const { status } = await owner.send('GET', `/api/calibration/${path}/${sampleId('X', 9)}`)
      expect(status).toBe(404)
    }
  })
})
