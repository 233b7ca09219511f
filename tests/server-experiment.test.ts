import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { experimentFinding } from '../src/domain/experiment-finding.ts'
import type { ExperimentRun } from '../src/domain/experiment-record.ts'
import { verify } from '../src/storage/verify.ts'
import { PUBLISHED_EXPERIMENTS } from './reference/factorial-experiments.ts'
import { onBothEngines } from './support/engines.ts'
import { runsOf } from './support/experiment-records.ts'
import { sampleId } from './support/sample-record.ts'
import { type Browser, startTestServer, type TestServer } from './support/server-client.ts'

/** Several changes at once, from the first word of the plan to what the runs say. */
onBothEngines('a planned experiment', ({ place }) => {
  let server: TestServer
  let member: Browser
  const unit = { id: sampleId('T', 1), name: 'Ward 4', parentId: null }
  const project = { id: sampleId('J', 1), unitId: unit.id, name: 'Rounds', aim: '' }
  const id = sampleId('E', 1)
  const url = `/api/experiments/${id}`
  const plan = {
    question: 'Which changes raise the rate?',
    response: 'the rate',
    responseKind: 'number',
    unitLabel: 'gal/h',
    better: 'up',
    conditions: 'One builder, one room.',
    generators: '',
    guessedSd: 5,
    determination: 'exercise',
    couldHarm: 'no',
  }
  const [filtration] = PUBLISHED_EXPERIMENTS
  const factorBody = (name: string) => ({
    name,
    low: 'off',
    high: 'on',
    middle: '',
    expected: 10,
    why: '',
    version: null,
  })
  const addFactor = (n: number, body: object, base = url) =>
    member.send('PUT', `${base}/factors/${sampleId('F', n)}`, body)
  const journal = async () =>
    (await server.db.read.selectFrom('journal').select('action').orderBy('seq').execute()).map(
      (row) => row.action,
    )

  beforeAll(async () => {
    server = await startTestServer(await place())
    const coach = await server.as('coach')
    member = await server.as('member')
    await coach.send('POST', '/api/units', unit)
    await member.send('POST', '/api/projects', project)
  })
  afterAll(() => server.close())

  it('begins empty and is listed with its project', async () => {
    const made = await member.send('POST', '/api/experiments', {
      id,
      projectId: project.id,
      title: 'Four at once',
    })
    expect(made.status).toBe(200)
    expect(made.body).toMatchObject({ experiment: { id, version: 1 }, factors: [], runs: [] })
    const list = await member.send('GET', `/api/projects/${project.id}/experiments`)
    expect(list.body.experiments).toEqual([made.body])
    expect(list.body.project.name).toBe('Rounds')
    const nowhere = await member.send('POST', '/api/experiments', {
      id: sampleId('E', 9),
      projectId: sampleId('J', 9),
      title: 'x',
    })
    expect(nowhere.body.code).toBe('record.not_found')
  })

  it('takes its plan on the version that was read, and on no other', async () => {
    const saved = await member.send('PATCH', `${url}/plan`, { ...plan, version: 1 })
    expect(saved.body).toMatchObject({ ...plan, version: 2 })
    const stale = await member.send('PATCH', `${url}/plan`, { question: 'x', version: 1 })
    expect(stale.body.code).toBe('record.stale')
    expect(stale.body.details.current.question).toBe(plan.question)
  })

  it.each([
    ['replicates', 5],
    ['centerPoints', -1],
    ['guessedSd', 0],
    ['responseKind', 'colour'],
  ])('refuses %s of %s', async (field, value) => {
    const refused = await member.send('PATCH', `${url}/plan`, { [field]: value, version: 2 })
    expect(refused.status).toBe(400)
    expect(refused.body.details.issues[0].field).toBe(field)
  })

  it('takes changes one after the other, seven at most', async () => {
    for (const [i, name] of filtration!.factors.entries()) {
      const added = await addFactor(i + 1, factorBody(name))
      expect(added.body).toMatchObject({ name, position: i + 1, version: 1 })
    }
    for (const n of [5, 6, 7]) await addFactor(n, factorBody(`More ${n}`))
    const eighth = await addFactor(8, factorBody('Eighth'))
    expect(eighth.body.code).toBe('experiment.too_many_factors')
    for (const n of [5, 6, 7]) {
      const gone = await member.send('DELETE', `${url}/factors/${sampleId('F', n)}`, { version: 1 })
      expect(gone.body).toEqual({ removed: 1 })
    }
  })

  it('keeps each change with its plan, and on its version', async () => {
    const changed = await addFactor(1, { ...factorBody('Heat'), version: 1 })
    expect(changed.body).toMatchObject({ name: 'Heat', version: 2 })
    const stale = await addFactor(1, { ...factorBody('Mine'), version: 1 })
    expect(stale.body.code).toBe('record.stale')
    const other = sampleId('E', 2)
    await member.send('POST', '/api/experiments', {
      id: other,
      projectId: project.id,
      title: 'Another',
    })
    const elsewhere = await addFactor(
      1,
      { ...factorBody('x'), version: 2 },
      `/api/experiments/${other}`,
    )
    expect(elsewhere.status).toBe(404)
    await addFactor(11, factorBody('Its own'), `/api/experiments/${other}`)
    const removed = await member.send('DELETE', `/api/experiments/${other}`, { version: 1 })
    expect(removed.body).toEqual({ removed: 2 })
  })

  it('refuses a measure of another project', async () => {
    const elsewhere = { ...project, id: sampleId('J', 2), name: 'Other' }
    await member.send('POST', '/api/projects', elsewhere)
    const measureId = sampleId('M', 2)
    await member.send('POST', '/api/measures', {
      id: measureId,
      projectId: elsewhere.id,
      name: 'Time',
      role: 'balancing',
      dataKind: 'single',
      valueFormat: 'number',
      unitLabel: '',
      per: 1,
      better: null,
      operationalDefinition: '',
      collectionPlan: '',
      goal: null,
      chartKind: 'auto',
      ruleSet: 'auto',
    })
    for (const field of ['measureId', 'stopMeasureId']) {
      const refused = await member.send('PATCH', `${url}/plan`, { [field]: measureId, version: 2 })
      expect(refused.body.code).toBe('record.elsewhere')
    }
  })

  it('asks about text that seems to name a patient', async () => {
    const refused = await member.send('PATCH', `${url}/plan`, {
      conditions: 'Call 07700 900123 for her.',
      version: 2,
    })
    expect(refused.body.code).toBe('care.looks_like_identifier')
  })

  it('is not locked while something is missing, and says what', async () => {
    await member.send('PATCH', `${url}/plan`, { question: '', version: 2 })
    const refused = await member.send('POST', `${url}/lock`, { version: 3 })
    expect(refused.status).toBe(409)
    expect(refused.body).toMatchObject({
      code: 'experiment.not_ready',
      details: { issues: [{ code: 'experiment.no_question', field: 'question' }] },
    })
    await member.send('PATCH', `${url}/plan`, { question: plan.question, version: 3 })
    const early = await member.send('PATCH', `${url}/learned`, { learned: 'x', version: 4 })
    expect(early.body.code).toBe('experiment.not_locked')
  })

  let runs: readonly ExperimentRun[] = []
  it('is locked with the order drawn, every combination once', async () => {
    const locked = await member.send('POST', `${url}/lock`, { version: 4 })
    expect(locked.status).toBe(200)
    runs = locked.body.runs
    expect(runs.map((r) => r.position)).toEqual(Array.from({ length: 16 }, (_, i) => i + 1))
    expect(new Set(runs.map((r) => r.levels)).size).toBe(16)
    expect(locked.body.experiment).toMatchObject({
      lockedAt: '2026-03-02T09:15:00.000Z',
      version: 5,
    })
    expect(locked.body.experiment.seed).toBeGreaterThanOrEqual(0)
  })

  describe('once locked', () => {
    it.each([
      ['PATCH', `${url}/plan`, { generators: 'D=ABC', version: 5 }],
      ['PUT', `${url}/factors/${sampleId('F', 1)}`, { ...factorBody('x'), version: 2 }],
      ['PUT', `${url}/factors/${sampleId('F', 12)}`, factorBody('x')],
      ['DELETE', `${url}/factors/${sampleId('F', 1)}`, { version: 2 }],
      ['POST', `${url}/lock`, { version: 5 }],
      ['DELETE', url, { version: 5 }],
    ])('refuses %s %s', async (method, path, body) => {
      const refused = await member.send(method, path, body)
      expect(refused.status).toBe(409)
      expect(refused.body.code).toBe('experiment.locked')
    })

    it('takes the responses, each on its version, and who wrote it down', async () => {
      const published = new Map(
        runsOf(4, '', filtration!.responses).map((r) => [r.levels, r.response]),
      )
      for (const run of runs) {
        const saved = await member.send('PATCH', `/api/experiment-runs/${run.id}`, {
          response: published.get(run.levels),
          version: 1,
        })
        expect(saved.body).toMatchObject({ at: '2026-03-02T09:15:00.000Z', version: 2 })
      }
      const stale = await member.send('PATCH', `/api/experiment-runs/${runs[0]!.id}`, {
        response: 1,
        version: 1,
      })
      expect(stale.body.code).toBe('record.stale')
    })

    it('comes to the published finding from what is stored', async () => {
      const read = await member.send('GET', url)
      const finding = experimentFinding(read.body.experiment, read.body.factors, read.body.runs)
      if (finding.kind !== 'effects') throw new Error(finding.kind)
      for (const [effect, printed] of Object.entries(filtration!.effects))
        expect(finding.effects.find((e) => e.effect === effect)!.estimate).toBeCloseTo(printed, 9)
    })

    it('leaves a run out with a reason and counts it again', async () => {
      const path = `/api/experiment-runs/${runs[3]!.id}`
      const out = await member.send('PATCH', path, {
        leftOutReason: 'The pump stood still.',
        note: 'Seen at once.',
        version: 2,
      })
      expect(out.body).toMatchObject({ leftOutReason: 'The pump stood still.', version: 3 })
      const blank = await member.send('PATCH', path, { leftOutReason: ' ', version: 3 })
      expect(blank.status).toBe(400)
      const again = await member.send('PATCH', path, { leftOutReason: null, version: 3 })
      expect(again.body).toMatchObject({ leftOutReason: null, note: 'Seen at once.' })
    })

    it('keeps what was learned, and lets a viewer read but not write', async () => {
      const learned = await member.send('PATCH', `${url}/learned`, {
        learned: 'Heat and stirring matter.',
        version: 5,
      })
      expect(learned.body).toMatchObject({ learned: 'Heat and stirring matter.', version: 6 })
      const viewer = await server.as('viewer')
      expect((await viewer.send('GET', url)).status).toBe(200)
      const refused = await viewer.send('PATCH', `/api/experiment-runs/${runs[0]!.id}`, {
        response: 1,
        version: 2,
      })
      expect(refused.status).toBe(403)
    })

    it('agrees with the journal, which names each step', async () => {
      expect((await server.db.snapshot(verify)).findings).toEqual([])
      expect(await journal()).toEqual(
        expect.arrayContaining([
          'experiment.create',
          'experiment.plan',
          'experiment.factor',
          'experiment.lock',
          'experiment.run',
          'experiment.learned',
        ]),
      )
    })
  })

  it('takes shares and times within their range only', async () => {
    const share = sampleId('E', 3)
    const at = `/api/experiments/${share}`
    await member.send('POST', '/api/experiments', { id: share, projectId: project.id, title: 'S' })
    await member.send('PATCH', `${at}/plan`, { ...plan, responseKind: 'share', version: 1 })
    for (const n of [21, 22]) await addFactor(n, factorBody(`Change ${n}`), at)
    const locked = await member.send('POST', `${at}/lock`, { version: 2 })
    const refused = await member.send('PATCH', `/api/experiment-runs/${locked.body.runs[0].id}`, {
      response: 1.5,
      version: 1,
    })
    expect(refused.status).toBe(422)
    expect(refused.body.code).toBe('experiment.bad_response')
  })

  it('answers not found for what is not there', async () => {
    const nothing = sampleId('E', 99)
    expect((await member.send('GET', `/api/experiments/${nothing}`)).status).toBe(404)
    const run = await member.send('PATCH', `/api/experiment-runs/${nothing}`, {
      note: '',
      version: 1,
    })
    expect(run.status).toBe(404)
  })
})
