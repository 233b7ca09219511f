/** A browser over the network. */
export async function networkBrowser(address: string) {
  let cookie = ''
  let csrf = ''
  async function send(method: string, path: string, body?: unknown) {
    const response = await fetch(address + path, {
      method,
      headers: {
        cookie,
        'x-pawl-csrf': csrf,
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    })
    const reply = (await response.json()) as Record<string, unknown>
    cookie = response.headers.get('set-cookie')?.split(';')[0] ?? cookie
    if (typeof reply['csrf'] === 'string') csrf = reply['csrf']
    return { status: response.status, reply }
  }
  await send('GET', '/api/session')
  return { send }
}
