import { afterAll, beforeAll, expect, it } from 'vitest'
import { verify } from '../src/storage/verify.ts'
import { onBothEngines } from './support/engines.ts'
import { sampleId } from './support/sample-record.ts'
import { type Browser, startTestServer, type TestServer } from './support/server-client.ts'

/** The main job through the server: plan, predict, lock, observe, study, decide, test again. */
onBothEngines('a test of change', ({ place }) => {
  let server: TestServer
  let member: Browser
  const unit = { id: sampleId('T', 1), name: 'Ward 4', parentId: null }
  const project = { id: sampleId('J', 1), unitId: unit.id, name: 'Summaries', aim: '' }
  const measure = {
    id: sampleId('M', 1),
    projectId: project.id,
    name: 'Sent within 24 hours',
    role: 'process',
    dataKind: 'classified',
    valueFormat: 'number',
    unitLabel: 'summaries',
    per: 1,
    better: 'up',
    operationalDefinition: 'Sent of all written.',
    collectionPlan: '',
    goal: 0.8,
    chartKind: 'auto',
    ruleSet: 'auto',
  }
  const cycleId = sampleId('C', 1)
  const predictionId = sampleId('R', 1)
  const prediction = {
    measureId: measure.id,
    expected: 0.7,
    low: 0.6,
    high: 0.8,
    confidence: 0.8,
    why: 'As on bay A.',
  }
  const plan = {
    question: 'Does drafting on the round work?',
    change: 'Draft on the round.',
    determination: 'improvement',
    approval: 'on-record',
    approvalNote: 'Register, entry 3.',
    couldHarm: 'no',
    plannedFrom: '2026-03-02',
    plannedTo: '2026-03-08',
  }
  const row = (n: number, at: string, numerator: number, more: object = {}) => ({
    id: sampleId('N', n),
    cycleId: null,
    trialId: null,
    at,
    value: null,
    numerator,
    denominator: 20,
    note: '',
    leftOutReason: null,
    ...more,
  })

  beforeAll(async () => {
    server = await startTestServer(await place())
    const coach = await server.as('coach')
    member = await server.as('member')
    expect((await coach.send('POST', '/api/units', unit)).body).toMatchObject({ origin: 'own' })
    expect((await member.send('POST', '/api/projects', project)).status).toBe(200)
    expect((await member.send('POST', '/api/measures', measure)).body).toEqual({
      ...measure,
      unitId: null,
      sameAsId: null,
      version: 1,
    })
    const made = await member.send('POST', '/api/cycles', {
      id: cycleId,
      projectId: project.id,
      title: 'Draft on the round',
      buildsOnId: null,
    })
    expect(made.body.cycle).toMatchObject({ number: 1, rampId: cycleId, lockedAt: null })
  })
  afterAll(() => server.close())
  const url = (rest: string) => `/api/cycles/${cycleId}${rest}`
  const version = async () => (await member.send('GET', url(''))).body.cycle.version as number

  it('is not locked while anything is missing, and says everything that is', async () => {
    const refused = await member.send('POST', url('/lock'), { version: 1 })
    expect(refused.status).toBe(409)
    expect(refused.body.code).toBe('cycle.not_ready')
    const codes = refused.body.details.issues.map((issue: { code: string }) => issue.code)
    expect(codes).toContain('cycle.no_question')
    expect(codes).toContain('cycle.no_prediction')
    expect(codes).toContain('cycle.no_determination')
  })

  it('takes no data before its lock', async () => {
    const save = [row(90, '2026-03-02', 15, { cycleId })]
    const refused = await member.send('POST', `/api/measures/${measure.id}/observations`, {
      save,
      remove: [],
    })
    expect(refused.body.code).toBe('cycle.not_locked')
  })

  it('keeps half a prediction while it is being written', async () => {
    const half = { ...prediction, expected: null, low: 0.9, high: 0.1, why: '', version: null }
    const saved = await member.send('PUT', url(`/predictions/${predictionId}`), half)
    expect(saved.body).toMatchObject({ id: predictionId, expected: null, version: 1 })
    const again = await member.send('PUT', url(`/predictions/${predictionId}`), {
      ...prediction,
      version: 1,
    })
    expect(again.body).toMatchObject({ ...prediction, version: 2 })
  })

  it('refuses a stale save, shows both, and loses nothing', async () => {
    const first = await member.send('PATCH', url('/plan'), { version: 1, ...plan })
    expect(first.body.version).toBe(2)
    const stale = await member.send('PATCH', url('/plan'), { version: 1, who: 'Night shift' })
    expect(stale.status).toBe(409)
    expect(stale.body.code).toBe('record.stale')
    expect(stale.body.details).toMatchObject({
      current: { version: 2, who: '', question: plan.question },
      yours: { version: 1, who: 'Night shift' },
    })
  })

  it('names every field it cannot take', async () => {
    const refused = await member.send('PATCH', url('/plan'), {
      version: 2,
      plannedFrom: '2026-02-30',
      couldHarm: 'perhaps',
      colour: 'red',
    })
    expect(refused.status).toBe(400)
    expect(refused.body.code).toBe('request.invalid')
    const fields = refused.body.details.issues.map((issue: { field: string }) => issue.field)
    expect(fields).toEqual(expect.arrayContaining(['plannedFrom', 'couldHarm']))
    expect(JSON.stringify(refused.body.details)).toContain('colour')
  })

  it('asks about text that looks like a patient’s identifier before it saves', async () => {
    const body = { version: 2, who: 'the patient born 3 April 1962, call 020 7946 0958' }
    const asked = await member.send('PATCH', url('/plan'), body)
    expect(asked.status).toBe(422)
    expect(asked.body.code).toBe('care.looks_like_identifier')
    const kinds = asked.body.details.places.map((place: { kind: string }) => place.kind)
    expect(kinds).toEqual(['date-of-birth', 'telephone'])
    expect(asked.body.details.places[0].field).toBe('who')
    expect(await version()).toBe(2)
    const checked = await member.send('PATCH', url('/plan'), body, { 'x-pawl-text-checked': 'yes' })
    expect(checked.status).toBe(200)
  })

  it('is locked once, by a person, at a moment', async () => {
    const locked = await member.send('POST', url('/lock'), { version: await version() })
    expect(locked.body).toMatchObject({
      lockedAt: server.clock.now.toISOString(),
      ranFrom: '2026-03-02',
    })
    const again = await member.send('POST', url('/lock'), { version: await version() })
    expect(again.body.code).toBe('cycle.locked')
  })

  it('keeps plan and predictions as they were from then on', async () => {
    const attempts = [
      await member.send('PATCH', url('/plan'), { version: await version(), change: 'Other' }),
      await member.send('PUT', url(`/predictions/${predictionId}`), {
        ...prediction,
        low: 0.1,
        version: 2,
      }),
      await member.send('PUT', url(`/predictions/${sampleId('R', 2)}`), {
        ...prediction,
        version: null,
      }),
      await member.send('DELETE', url(`/predictions/${predictionId}`), { version: 2 }),
    ]
    for (const { status, body } of attempts) {
      expect(status).toBe(409)
      expect(body.code).toBe('cycle.locked')
    }
    const note = { id: sampleId('A', 1), predictionId, text: 'We meant weekdays only.' }
    expect((await member.send('POST', url('/addenda'), note)).status).toBe(200)
    const { body } = await member.send('GET', url(''))
    expect(body.predictions).toMatchObject([prediction])
    expect(body.addenda).toMatchObject([{ text: 'We meant weekdays only.' }])
  })

  it('cannot be finished without an outcome', async () => {
    const refused = await member.send('POST', url('/done'), { version: await version() })
    expect(refused.body.code).toBe('cycle.no_outcome')
  })

  it('refuses text that a database cannot keep, in labels too', async () => {
    const refused = await member.send('PATCH', `/api/measures/${measure.id}`, {
      version: 1,
      unitLabel: 'min\u0000utes',
    })
    expect(refused.status).toBe(400)
    expect(refused.body.details.issues).toMatchObject([{ field: 'unitLabel' }])
  })

  it('saves observations all or not at all, and names the cell that is wrong', async () => {
    const path = `/api/measures/${measure.id}/observations`
    const save = [row(1, '2026-03-02', 15), row(2, '2026-03-03', 21), row(3, '2026-03-04', 2.5)]
    const refused = await member.send('POST', path, { save, remove: [] })
    expect(refused.status).toBe(422)
    expect(refused.body.details.issues).toMatchObject([
      { field: 'save.1.numerator' },
      { field: 'save.2.numerator' },
    ])
    const none = await member.send('GET', `/api/measures/${measure.id}`)
    expect(none.body.observations).toEqual([])
    const saved = await member.send('POST', path, {
      save: [row(1, '2026-02-20', 10), row(2, '2026-03-03', 14)],
      remove: [],
    })
    expect(saved.body.observations).toHaveLength(2)
    const changed = await member.send('POST', path, {
      save: [row(2, '2026-03-03', 15, { version: 1 }), row(3, '2026-03-04', 14)],
      remove: [{ id: sampleId('N', 1), version: 1 }],
    })
    expect(changed.body.observations).toMatchObject([
      { numerator: 15, version: 2 },
      { numerator: 14, version: 1 },
    ])
    const stale = await member.send('POST', path, {
      save: [row(9, '2026-03-05', 1), row(2, '2026-03-03', 1, { version: 1 })],
      remove: [],
    })
    expect(stale.body.code).toBe('record.stale')
    const { body } = await member.send('GET', `/api/measures/${measure.id}`)
    expect(body.observations.map((o: { numerator: number }) => o.numerator)).toEqual([15, 14])
    expect(body.cycles).toHaveLength(1)
  })

  it('takes trials, and voids one with its values', async () => {
    const trial = {
      id: sampleId('Y', 1),
      at: '2026-03-05T08:00:00.000Z',
      note: '',
      observations: [
        {
          id: sampleId('N', 20),
          measureId: measure.id,
          at: '2026-03-05T08:00:00.000Z',
          value: null,
          numerator: 3,
          denominator: 4,
          note: '',
          leftOutReason: null,
        },
      ],
    }
    const made = await member.send('POST', url('/trials'), trial)
    expect(made.body.trial).toMatchObject({ number: 1, cycleId })
    expect(made.body.observations).toMatchObject([{ cycleId, trialId: trial.id }])
    const leftOut = async () => {
      const { body } = await member.send('GET', `/api/measures/${measure.id}`)
      return body.observations.find((o: { id: string }) => o.id === sampleId('N', 20)).leftOutReason
    }
    const path = `/api/trials/${trial.id}`
    await member.send('PATCH', path, { version: 1, voidReason: 'Clock stopped.' })
    expect(await leftOut()).toBe('Clock stopped.')
    await member.send('PATCH', path, { version: 2, voidReason: null })
    expect(await leftOut()).toBeNull()
  })

  it('goes on to Study only after Do, and to the decision only after Study', async () => {
    const early = {
      id: sampleId('D', 1),
      kind: 'adapt',
      reason: 'Works.',
      nextChange: 'Bay B too.',
    }
    const decide = async () =>
      member.send('POST', url('/decision'), {
        ...early,
        differsBecause: ' Bay B asked for it. ',
        nextId: sampleId('C', 2),
        version: await version(),
      })
    expect((await decide()).body.code).toBe('cycle.not_studied')
    const told = await member.send('POST', url('/decision'), {
      ...early,
      suggestedKind: 'adapt',
      nextId: sampleId('C', 2),
      version: await version(),
    })
    expect(told.status).toBe(400)
    await member.send('PATCH', url('/do'), { version: await version(), happened: 'As planned.' })
    const done = await member.send('POST', url('/done'), { version: await version() })
    expect(done.body.doneAt).not.toBeNull()
    const silent = await member.send('POST', url('/studied'), { version: await version() })
    expect(silent.body.code).toBe('cycle.no_learning')
    await member.send('PATCH', url('/study'), {
      version: await version(),
      learned: 'Drafts save time.',
      predictionReview: 'Right.',
    })
    const studied = await member.send('POST', url('/studied'), { version: await version() })
    expect(studied.body.studiedAt).not.toBeNull()

    const today = await member.send('GET', '/api/today')
    expect(today.body.items).toMatchObject([{ kind: 'decide', cycleId, unitName: 'Ward 4' }])

    const { body } = await decide()
    // The suggestion is the server's own, from the record; nothing the client says about it counts.
    expect(body.decision).toMatchObject({
      kind: 'adapt',
      reason: 'Works.',
      suggestedKind: 'keep-collecting',
      suggestedReasons: expect.stringMatching(/^No change is shown .*\nMore points in the test/),
      differsBecause: 'Bay B asked for it.',
    })
    const kept = await member.send('GET', `/api/cycles/${cycleId}`)
    expect(kept.body.decision).toEqual(body.decision)
    expect(body.next.cycle).toMatchObject({
      number: 2,
      buildsOnId: cycleId,
      rampId: cycleId,
      question: plan.question,
      lockedAt: null,
    })
    expect(body.next.predictions).toMatchObject([{ measureId: measure.id, expected: 0.7, why: '' }])
    expect((await decide()).body.code).toBe('cycle.closed')
  })

  it('starts a phase with a reason, and only one on a day', async () => {
    const phase = {
      id: sampleId('F', 1),
      measureId: measure.id,
      startsAt: '2026-03-02',
      frozenThrough: null,
      reason: '',
      cycleId,
    }
    expect((await member.send('POST', '/api/phases', phase)).body.code).toBe('phase.no_reason')
    const reason = 'Holds since the round drafts.'
    expect((await member.send('POST', '/api/phases', { ...phase, reason })).status).toBe(200)
    const second = { ...phase, id: sampleId('F', 2), reason }
    expect((await member.send('POST', '/api/phases', second)).body.code).toBe('phase.same_start')
  })

  it('keeps units a tree, and removes only empty ones', async () => {
    const coach = await server.as('coach')
    const bay = { id: sampleId('T', 2), name: 'Bay A', parentId: unit.id }
    await coach.send('POST', '/api/units', bay)
    const loop = await coach.send('PATCH', `/api/units/${unit.id}`, {
      version: 1,
      parentId: bay.id,
    })
    expect(loop.body.code).toBe('unit.loop')
    const full = await coach.send('DELETE', `/api/units/${unit.id}`, { version: 1 })
    expect(full.body.code).toBe('unit.not_empty')
    const empty = await coach.send('DELETE', `/api/units/${bay.id}`, { version: 1 })
    expect(empty.body).toEqual({ removed: 1 })
  })

  it('imports a file as a whole or not at all', async () => {
    const path = `/api/measures/${measure.id}/import`
    const good = 'date,sent,written\n2026-03-09,16,20\n2026-03-16,17,20\n'
    const bad = 'date,sent,written\n2026-03-09,16,20\n2026-03-16,27,20\n'
    const columns = { at: 'date', numerator: 'sent', denominator: 'written' }
    const preview = await member.send('POST', `${path}/preview`, { text: bad, columns })
    expect(preview.status).toBe(200)
    expect(preview.body.issues).toMatchObject([{ row: 3 }])
    const refused = await member.send('POST', path, { text: bad, columns, duplicates: 'refuse' })
    expect(refused.status).toBe(422)
    expect(refused.body.code).toBe('import.invalid')
    const done = await member.send('POST', path, { text: good, columns, duplicates: 'refuse' })
    expect(done.body.imported).toBe(2)
    const twice = await member.send('POST', path, { text: good, columns, duplicates: 'refuse' })
    expect(twice.body.code).toBe('import.duplicates')
    expect(twice.body.details.alreadyThere).toEqual([2, 3])
    const more = `${good}2026-03-23,18,20\n`
    const skipped = await member.send('POST', path, { text: more, columns, duplicates: 'skip' })
    expect(skipped.body.imported).toBe(1)
    const replaced = await member.send('POST', path, {
      text: good.replace('16,20', '15,20'),
      columns,
      duplicates: 'replace',
    })
    expect(replaced.body.imported).toBe(2)
    const { body } = await member.send('GET', `/api/measures/${measure.id}`)
    const after = body.observations.filter((o: { at: string }) => o.at >= '2026-03-09')
    expect(after.map((o: { numerator: number }) => o.numerator)).toEqual([15, 17, 18])
  })

  it('takes as many observations at once as it says it does', async () => {
    const made = await member.send('POST', '/api/measures', {
      ...measure,
      id: sampleId('M', 77),
    })
    const day = (i: number) => new Date(Date.UTC(2000, 0, 1 + i)).toISOString().slice(0, 10)
    const save = Array.from({ length: 10_000 }, (_, i) =>
      row(0, day(i), 3, { id: `01J00000000000000000B${String(i).padStart(5, '0')}` }),
    )
    expect(JSON.stringify(save).length).toBeGreaterThan(1024 * 1024)
    const path = `/api/measures/${made.body.id}/observations`
    const saved = await member.send('POST', path, { save, remove: [] })
    expect(saved.status).toBe(200)
    expect(saved.body.observations).toHaveLength(10_000)
  })

  it('leaves a record that agrees with its journal', async () => {
    expect((await server.db.snapshot(verify)).findings).toEqual([])
  })
})
