import { afterEach, beforeEach, expect, it } from 'vitest'
import { onBothEngines } from './support/engines.ts'
import { sampleId } from './support/sample-record.ts'
import { PASSWORD, startTestServer, type TestServer } from './support/server-client.ts'

const OWNER = { name: 'R. Marsh', email: 'R.Marsh@saltmarsh.example', password: PASSWORD }

onBothEngines('signing in', ({ place }) => {
  let server: TestServer
  beforeEach(async () => {
    server = await startTestServer(await place())
  })
  afterEach(() => server.close())

  async function withOwner() {
    const browser = server.browser()
    await browser.open()
    const answer = await browser.send('POST', '/api/owner', OWNER)
    return { browser, answer }
  }

  it('makes the owner account once, at the first visit', async () => {
    expect((await server.browser().open()).body).toMatchObject({ me: null, needsOwner: true })
    const { browser, answer } = await withOwner()
    expect(answer.body).toMatchObject({
      me: { name: 'R. Marsh', email: 'r.marsh@saltmarsh.example', role: 'owner' },
      needsOwner: false,
    })
    expect((await browser.open()).body.me.name).toBe('R. Marsh')
    const second = server.browser()
    await second.open()
    const refused = await second.send('POST', '/api/owner', { ...OWNER, email: 'x@y.example' })
    expect(refused.status).toBe(409)
    expect(refused.body.code).toBe('auth.owner_exists')
  })

  it('makes one owner only when two ask at the same moment', async () => {
    const browsers = [server.browser(), server.browser()]
    for (const browser of browsers) await browser.open()
    const answers = await Promise.all(
      browsers.map((b, i) =>
        b.send('POST', '/api/owner', { ...OWNER, email: `owner${i}@saltmarsh.example` }),
      ),
    )
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 409])
  })

  it('keeps the token out of reach of scripts, and only its digest in the record', async () => {
    const browser = server.browser()
    const { headers } = await browser.open()
    expect(headers['set-cookie']).toMatch(/^pawl=[\w-]{43}; Path=\/; HttpOnly; SameSite=Lax$/)
    const before = browser.cookie
    await browser.send('POST', '/api/owner', OWNER)
    expect(browser.cookie).not.toBe(before)
    const token = browser.cookie.split('=')[1]!
    const kept = JSON.stringify([
      await server.db.read.selectFrom('session').selectAll().execute(),
      await server.db.read.selectFrom('journal').selectAll().execute(),
      await server.db.read.selectFrom('person').selectAll().execute(),
    ])
    expect(kept).not.toContain(token)
    expect(kept).not.toContain(browser.csrf)
    expect(kept).not.toContain(PASSWORD)
  })

  it('refuses passwords that are easy to guess', async () => {
    const browser = server.browser()
    await browser.open()
    for (const password of ['short', 'aaaaaaaaaaaaaaaaa', OWNER.email.toUpperCase()]) {
      const answer = await browser.send('POST', '/api/owner', { ...OWNER, password })
      expect(answer.status).toBe(422)
      expect(answer.body.code).toBe('auth.weak_password')
    }
  })

  it('does not tell a wrong password from an unknown account', async () => {
    await withOwner()
    const known = await server.browser().signIn(OWNER.email, 'something else entirely')
    const unknown = await server.browser().signIn('nobody@saltmarsh.example')
    expect(known.status).toBe(401)
    expect(unknown.body).toEqual(known.body)
  })

  it('slows guessing down and says for how long', async () => {
    await withOwner()
    for (let i = 0; i < 10; i++)
      expect((await server.browser().signIn(OWNER.email, `guess ${i} of many`)).status).toBe(401)
    const refused = await server.browser().signIn(OWNER.email)
    expect(refused.status).toBe(429)
    expect(refused.body.code).toBe('auth.too_many_tries')
    expect(Number(refused.headers['retry-after'])).toBe(900)
    server.clock.now = new Date(server.clock.now.getTime() + 900_000)
    expect((await server.browser().signIn(OWNER.email)).status).toBe(200)
  })

  it('ends a session at sign-out, and after a long shift', async () => {
    const { browser } = await withOwner()
    const stolen = browser.cookie
    expect((await browser.send('DELETE', '/api/session')).body.me).toBeNull()
    const thief = server.browser()
    thief.cookie = stolen
    expect((await thief.open()).body.me).toBeNull()

    await browser.signIn(OWNER.email)
    expect((await browser.open()).body.me).not.toBeNull()
    server.clock.now = new Date(server.clock.now.getTime() + 15 * 3_600_000)
    expect((await browser.open()).body.me).toBeNull()
  })

  it('changes a password, and ends every other session', async () => {
    const { browser } = await withOwner()
    const elsewhere = server.browser()
    await elsewhere.signIn(OWNER.email)
    const wrong = await browser.send('POST', '/api/password', {
      current: 'not this one at all',
      next: 'five other unrelated words',
    })
    expect(wrong.body.code).toBe('auth.wrong')
    const changed = await browser.send('POST', '/api/password', {
      current: PASSWORD,
      next: 'five other unrelated words',
    })
    expect(changed.status).toBe(200)
    expect((await browser.open()).body.me).not.toBeNull()
    expect((await elsewhere.open()).body.me).toBeNull()
    expect((await server.browser().signIn(OWNER.email)).status).toBe(401)
    expect((await server.browser().signIn(OWNER.email, 'five other unrelated words')).status).toBe(
      200,
    )
  })

  it('says whose address a new account would share', async () => {
    const { browser } = await withOwner()
    const person = { id: sampleId('P', 8), name: 'T. Osei', role: 'viewer', password: PASSWORD }
    const taken = { ...person, email: 'r.marsh@Saltmarsh.example' }
    const refused = await browser.send('POST', '/api/people', taken)
    expect(refused.status).toBe(409)
    expect(refused.body).toMatchObject({
      code: 'people.email_taken',
      message: 'R. Marsh has an account with r.marsh@saltmarsh.example already.',
      details: { issues: [{ field: 'email' }] },
    })
    const own = { ...person, email: 't.osei@saltmarsh.example' }
    expect((await browser.send('POST', '/api/people', own)).status).toBe(200)
    const moved = { version: 1, email: 'r.marsh@saltmarsh.example' }
    const changed = await browser.send('PATCH', `/api/people/${person.id}`, moved)
    expect(changed.body.code).toBe('people.email_taken')
    const kept = await browser.send('PATCH', `/api/people/${person.id}`, {
      version: 1,
      name: 'T. N. Osei',
      email: own.email,
    })
    expect(kept.body).toMatchObject({ name: 'T. N. Osei', version: 2 })
  })

  it('closes an account at once, but never the last owner’s', async () => {
    const { browser, answer } = await withOwner()
    const id = sampleId('P', 7)
    const made = await browser.send('POST', '/api/people', {
      id,
      name: 'L. Fenn',
      email: 'l.fenn@saltmarsh.example',
      role: 'member',
      password: PASSWORD,
    })
    expect(made.body).toMatchObject({ id, role: 'member', version: 1 })
    expect(made.body).not.toHaveProperty('passwordHash')
    const member = server.browser()
    await member.signIn('l.fenn@saltmarsh.example')
    const closed = await browser.send('PATCH', `/api/people/${id}`, {
      version: 1,
      closedAt: '1999-01-01T00:00:00.000Z',
    })
    expect(closed.body.closedAt).toBe(server.clock.now.toISOString())
    expect((await member.open()).body.me).toBeNull()
    expect((await server.browser().signIn('l.fenn@saltmarsh.example')).status).toBe(401)

    const own = answer.body.me.id
    for (const change of [{ role: 'coach' }, { closedAt: '2026-03-02T10:00:00.000Z' }]) {
      const refused = await browser.send('PATCH', `/api/people/${own}`, { version: 1, ...change })
      expect(refused.status).toBe(409)
      expect(refused.body.code).toBe('people.last_owner')
    }
  })
})

onBothEngines('behind https', ({ place }) => {
  it('sends a cookie that only this host can have set, and checks its own address', async () => {
    const server = await startTestServer(await place(), { origin: 'https://pawl.example' })
    const browser = server.browser()
    const { headers } = await browser.open()
    expect(headers['set-cookie']).toMatch(/^__Host-pawl=.*; Secure;/)
    const from = (origin: string) => browser.send('POST', '/api/owner', OWNER, { origin })
    expect((await from('http://pawl.example')).body.code).toBe('request.foreign_origin')
    expect((await from('https://pawl.example')).status).toBe(200)
    await server.close()
  })
})
