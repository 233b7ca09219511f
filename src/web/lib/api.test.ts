import { describe, expect, it, vi } from 'vitest'
import { AppError } from '../../errors.ts'
import { createCall, pathOf, type Surroundings } from './api.ts'

interface Answer {
  readonly status: number
  readonly body: unknown
}

function setUp(answers: (Answer | Error)[], around: Partial<Surroundings> = {}) {
  const requests: { url: string; init: RequestInit & { headers: Record<string, string> } }[] = []
  const call = createCall({
    fetch: async (url, init) => {
      requests.push({ url: String(url), init: init as (typeof requests)[number]['init'] })
      const answer = answers.shift()
      if (answer === undefined) throw new TypeError('No answer was prepared.')
      if (answer instanceof Error) throw answer
      return new Response(answer.body === undefined ? null : JSON.stringify(answer.body), {
        status: answer.status,
      })
    },
    csrf: () => 'token-1',
    onSession: () => undefined,
    onSignedOut: () => undefined,
    ask: async () => false,
    timeout: 20_000,
    ...around,
  })
  return { call, requests }
}

const refusal = (code: string, details: Record<string, unknown> = {}) => ({
  code,
  message: `Refused: ${code}.`,
  hint: 'Do something else.',
  details,
})
const unit = { id: 'U1', parentId: null, name: 'Ward 4', origin: 'own', version: 2 }

describe('call', () => {
  it('fills the path, sends the body and the token, and answers the reply', async () => {
    const { call, requests } = setUp([{ status: 200, body: unit }])
    const reply = await call('PATCH /api/units/:id', {
      params: { id: 'U 1' },
      body: { version: 1, name: 'Ward 4' },
    })
    expect(reply).toEqual(unit)
    expect(requests[0]?.url).toBe('/api/units/U%201')
    expect(requests[0]?.init.method).toBe('PATCH')
    expect(requests[0]?.init.headers['x-pawl-csrf']).toBe('token-1')
    expect(JSON.parse(String(requests[0]?.init.body))).toEqual({ version: 1, name: 'Ward 4' })
  })

  it('sends no token and no body with a read', async () => {
    const { call, requests } = setUp([{ status: 200, body: { items: [] } }])
    await call('GET /api/today')
    expect(requests[0]?.init.headers['x-pawl-csrf']).toBeUndefined()
    expect(requests[0]?.init.body).toBeUndefined()
  })

  it('carries code, hint and details of a refusal', async () => {
    const { call } = setUp([{ status: 409, body: refusal('record.stale', { current: unit }) }])
    await expect(
      call('PATCH /api/units/:id', { params: { id: 'U1' }, body: { version: 1, name: 'x' } }),
    ).rejects.toMatchObject({
      code: 'record.stale',
      hint: 'Do something else.',
      details: { current: unit },
    })
  })

  it.each([
    ['the network is gone', new TypeError('Failed to fetch'), 'client.offline'],
    ['the server is silent', new DOMException('late', 'TimeoutError'), 'client.timeout'],
    ['a page of another program answers', { status: 502, body: undefined }, 'client.bad_answer'],
    ['an answer without a reason comes', { status: 500, body: ['?'] }, 'client.bad_answer'],
  ])('says that what was typed is kept when %s', async (_case, answer, code) => {
    const { call } = setUp([answer])
    const body = { version: 1, name: 'Ward 4' }
    const error = await call('PATCH /api/units/:id', { params: { id: 'U1' }, body }).catch(
      (thrown: unknown) => thrown,
    )
    expect(error).toBeInstanceOf(AppError)
    expect(error).toMatchObject({
      code,
      hint: expect.stringContaining('kept on this device') as unknown,
    })
  })

  it('does not speak of typing when nothing was typed', async () => {
    const { call } = setUp([new TypeError('Failed to fetch')])
    await expect(call('GET /api/today')).rejects.toMatchObject({
      hint: 'Check the connection, then try again.',
    })
  })

  it('says when the session has ended, but not when a sign-in is refused', async () => {
    const onSignedOut = vi.fn()
    const { call } = setUp(
      [
        { status: 401, body: refusal('auth.wrong') },
        { status: 401, body: refusal('auth.needed') },
      ],
      { onSignedOut },
    )
    await call('POST /api/session', { body: { email: 'a', password: 'b' } }).catch(() => undefined)
    expect(onSignedOut).not.toHaveBeenCalled()
    await call('GET /api/today').catch(() => undefined)
    expect(onSignedOut).toHaveBeenCalledOnce()
  })

  it('saves text that looks like an identifier only after the person has said so', async () => {
    const answers = () => [
      { status: 422, body: refusal('care.looks_like_identifier') },
      { status: 200, body: unit },
    ]
    const body = { version: 1, name: 'Ward 943 476 5919' }
    const params = { id: 'U1' }

    const yes = setUp(answers(), { ask: async () => true })
    expect(await yes.call('PATCH /api/units/:id', { params, body })).toEqual(unit)
    expect(yes.requests[0]?.init.headers['x-pawl-text-checked']).toBeUndefined()
    expect(yes.requests[1]?.init.headers['x-pawl-text-checked']).toBe('yes')

    const no = setUp(answers(), { ask: async () => false })
    await expect(no.call('PATCH /api/units/:id', { params, body })).rejects.toMatchObject({
      code: 'care.looks_like_identifier',
    })
    expect(no.requests).toHaveLength(1)
  })

  it('fetches a new token and repeats the write when the old one has run out', async () => {
    let token = 'old'
    const { call, requests } = setUp(
      [
        { status: 403, body: refusal('request.no_csrf') },
        { status: 200, body: { csrf: 'new' } },
        { status: 200, body: unit },
      ],
      {
        csrf: () => token,
        onSession: (reply) => {
          token = reply.csrf
        },
      },
    )
    await call('PATCH /api/units/:id', { params: { id: 'U1' }, body: { version: 1, name: 'x' } })
    expect(requests.map((r) => r.init.headers['x-pawl-csrf'])).toEqual(['old', undefined, 'new'])
  })
})

it('encodes what stands in a path', () => {
  expect(
    pathOf('/api/cycles/:id/predictions/:predictionId', { id: 'a/b', predictionId: 'c' }),
  ).toBe('/api/cycles/a%2Fb/predictions/c')
})
