import { afterAll, beforeAll, expect, it } from 'vitest'
import { verify } from '../src/storage/verify.ts'
import { onBothEngines } from './support/engines.ts'
import { sampleId } from './support/sample-record.ts'
import { type Browser, startTestServer, type TestServer } from './support/server-client.ts'

/** What is known now about an idea: one text a chain, kept with the record. */
onBothEngines('what is known about an idea', ({ place }) => {
  let server: TestServer
  let member: Browser
  const unit = { id: sampleId('T', 1), name: 'Ward 4', parentId: null }
  const project = { id: sampleId('J', 1), unitId: unit.id, name: 'Summaries', aim: '' }
  const first = sampleId('C', 1)
  const note = { id: sampleId('W', 1), text: 'Naming one sender works by day.', version: null }
  const url = `/api/ramps/${first}/note`

  beforeAll(async () => {
    server = await startTestServer(await place())
    const coach = await server.as('coach')
    member = await server.as('member')
    await coach.send('POST', '/api/units', unit)
    await member.send('POST', '/api/projects', project)
    await member.send('POST', '/api/cycles', {
      id: first,
      projectId: project.id,
      title: 'A named sender',
      buildsOnId: null,
    })
  })
  afterAll(() => server.close())

  it('is written once a chain and read with its project', async () => {
    const made = await member.send('PUT', url, note)
    expect(made.body).toEqual({
      id: note.id,
      projectId: project.id,
      rampId: first,
      text: note.text,
      version: 1,
    })
    const read = await member.send('GET', `/api/projects/${project.id}`)
    expect(read.body.rampNotes).toEqual([made.body])
  })

  it('is rewritten on the version that was read, and on no other', async () => {
    const again = { ...note, text: 'Works by day; nights need another way.', version: 1 }
    expect((await member.send('PUT', url, again)).body).toMatchObject({ version: 2 })
    for (const version of [1, null]) {
      const stale = await member.send('PUT', url, { ...note, text: 'Mine', version })
      expect(stale.status).toBe(409)
      expect(stale.body.code).toBe('record.stale')
      expect(stale.body.details.current.text).toBe(again.text)
    }
  })

  it('belongs to the first test of a chain', async () => {
    const refused = await member.send('PUT', `/api/ramps/${sampleId('C', 9)}/note`, note)
    expect(refused.status).toBe(404)
    expect(refused.body.code).toBe('record.not_found')
  })

  it('is asked about when it seems to name a patient', async () => {
    const refused = await member.send('PUT', url, {
      ...note,
      text: 'Call 07700 900123 for her.',
      version: 2,
    })
    expect(refused.status).toBe(422)
    expect(refused.body.code).toBe('care.looks_like_identifier')
  })

  it('is only read by a viewer, and agrees with the journal', async () => {
    const viewer = await server.as('viewer')
    expect((await viewer.send('PUT', url, { ...note, version: 2 })).status).toBe(403)
    expect((await server.db.snapshot(verify)).findings).toEqual([])
  })
})
