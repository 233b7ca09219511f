import { afterAll, beforeAll, expect, it } from 'vitest'
import { verify } from '../src/storage/verify.ts'
import { onBothEngines } from './support/engines.ts'
import { measure } from './support/records.ts'
import { sampleId } from './support/sample-record.ts'
import { type Browser, startTestServer, type TestServer } from './support/server-client.ts'

onBothEngines('the same measure on another unit', ({ place }) => {
  let server: TestServer
  let coach: Browser
  let member: Browser
  const ward = (n: number) => ({ id: sampleId('T', n), name: `Ward ${n}`, parentId: null })
  const project = (n: number) => ({
    id: sampleId('J', n),
    unitId: ward(n).id,
    name: `Summaries ${n}`,
    aim: '',
  })
  const { version: _, unitId: __, sameAsId: ___, ...fields } = measure({ goal: 0.9 })
  const body = (n: number, own: object = {}) => ({
    ...fields,
    id: sampleId('M', n),
    projectId: project(1).id,
    ...own,
  })
  const repeat = (n: number, own: object = {}) =>
    body(n, { name: 'On Ward 2', unitId: ward(2).id, sameAsId: sampleId('M', 1), ...own })
  const post = (given: object) => member.send('POST', '/api/measures', given)
  const patch = (n: number, version: number, change: object) =>
    member.send('PATCH', `/api/measures/${sampleId('M', n)}`, { version, ...change })

  beforeAll(async () => {
    server = await startTestServer(await place())
    coach = await server.as('coach')
    member = await server.as('member')
    for (const n of [1, 2, 3]) await coach.send('POST', '/api/units', ward(n))
    for (const n of [1, 2]) await member.send('POST', '/api/projects', project(n))
    await post(body(1))
    await post(body(5, { projectId: project(2).id }))
  })
  afterAll(() => server.close())

  it('is the project’s own unit and repeats nothing where that is not said', async () => {
    const { body: reply } = await member.send('GET', `/api/measures/${sampleId('M', 1)}`)
    expect(reply.measure).toMatchObject({ unitId: null, sameAsId: null })
    expect(reply.family).toEqual([])
    expect(reply.units.map((u: { name: string }) => u.name)).toEqual(['Ward 1'])
  })

  it('refuses a repeat that is not the same, stands nowhere, or repeats what it may not', async () => {
    const different = await post(repeat(2, { better: 'down', role: 'outcome' }))
    expect(different.body).toMatchObject({
      code: 'measure.not_the_same',
      details: { fields: ['role', 'better'] },
    })
    expect((await post(repeat(2, { unitId: sampleId('T', 9) }))).body.code).toBe('record.not_found')
    expect((await post(repeat(2, { unitId: null }))).body.code).toBe('measure.unit_taken')
    expect((await post(repeat(2, { sameAsId: sampleId('M', 5) }))).body.code).toBe(
      'record.elsewhere',
    )
    expect((await post(repeat(2, { sameAsId: sampleId('M', 9) }))).body.code).toBe(
      'record.not_found',
    )
    const rows = await server.db.read.selectFrom('measure').select('id').execute()
    expect(rows).toHaveLength(2)
  })

  it('is listed with its family and its units, and a chain of repeats is refused', async () => {
    expect((await post(repeat(2))).status).toBe(200)
    const { body: reply } = await member.send('GET', `/api/measures/${sampleId('M', 1)}`)
    expect(reply.family.map((m: { id: string }) => m.id)).toEqual([
      sampleId('M', 1),
      sampleId('M', 2),
    ])
    expect(reply.units.map((u: { name: string }) => u.name)).toEqual(['Ward 1', 'Ward 2'])
    const listed = await member.send('GET', `/api/projects/${project(1).id}`)
    expect(listed.body.units).toEqual(reply.units)

    const chained = repeat(3, { unitId: ward(3).id, sameAsId: sampleId('M', 2) })
    expect((await post(chained)).body.code).toBe('measure.not_repeatable')
    const turned = await patch(1, 1, { sameAsId: sampleId('M', 1) })
    expect(turned.body.code).toBe('measure.not_repeatable')
    expect((await post(repeat(3))).body.code).toBe('measure.unit_taken')
  })

  it('has its definition from the one it repeats, and follows it', async () => {
    const alone = await patch(2, 1, { better: 'down' })
    expect(alone.body.code).toBe('measure.not_the_same')
    const own = await patch(2, 1, { goal: 0.95, name: 'Ward 2: in time' })
    expect(own.body).toMatchObject({ goal: 0.95, version: 2 })
    const changed = await patch(1, 1, { operationalDefinition: 'By the clerk.', goal: 0.8 })
    expect(changed.status).toBe(200)
    const { body: reply } = await member.send('GET', `/api/measures/${sampleId('M', 2)}`)
    expect(reply.measure).toMatchObject({
      operationalDefinition: 'By the clerk.',
      goal: 0.95,
      name: 'Ward 2: in time',
      version: 3,
    })
    const last = await server.db.read
      .selectFrom('journal')
      .selectAll()
      .orderBy('seq', 'desc')
      .limit(1)
      .execute()
    expect(JSON.parse(last[0]!.changes)).toHaveLength(2)
  })

  it('does not let data lose their columns through the one that is repeated', async () => {
    const saved = await member.send('POST', `/api/measures/${sampleId('M', 2)}/observations`, {
      save: [
        {
          id: sampleId('N', 1),
          at: '2026-03-02',
          cycleId: null,
          trialId: null,
          value: null,
          numerator: 3,
          denominator: 4,
          note: '',
          leftOutReason: null,
        },
      ],
      remove: [],
    })
    expect(saved.status).toBe(200)
    expect((await patch(1, 2, { dataKind: 'counts' })).body.code).toBe('measure.has_data')
  })

  it('keeps its unit: it cannot be removed, nor the project moved onto it', async () => {
    const moved = await member.send('PATCH', `/api/projects/${project(1).id}`, {
      version: 1,
      unitId: ward(2).id,
    })
    expect(moved.body.code).toBe('measure.unit_taken')
    expect((await patch(2, 3, { unitId: ward(3).id })).body.unitId).toBe(ward(3).id)
    const removed = await coach.send('DELETE', `/api/units/${ward(3).id}`, { version: 1 })
    expect(removed.body.code).toBe('unit.not_empty')
    expect((await server.db.snapshot(verify)).findings).toEqual([])
  })
})
