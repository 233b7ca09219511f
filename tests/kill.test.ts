import { execFile } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import { expect, it } from 'vitest'
import { openDatabase } from '../src/storage/database.ts'
import { verify } from '../src/storage/verify.ts'
import { onBothEngines } from './support/engines.ts'
import { networkBrowser } from './support/network-browser.ts'
import { sampleId } from './support/sample-record.ts'
import { environmentOf, startServer } from './support/server-process.ts'

const SAVES = 1000
const AT_A_TIME = 8
const MAIN = fileURLToPath(new URL('../src/cli/main.ts', import.meta.url))

onBothEngines('a server that is killed in the middle of its work', ({ place }) => {
  it('has every save that it acknowledged, and a record that verifies', async () => {
    const where = await place()
    const server = await startServer(where)
    const browser = await networkBrowser(server.address)
    const owner = {
      name: 'R. Marsh',
      email: 'r@saltmarsh.example',
      password: 'four unrelated words',
    }
    expect((await browser.send('POST', '/api/owner', owner)).status).toBe(200)

    const acknowledged: { id: string; name: string }[] = []
    let sent = 0
    let killed: Promise<void> | undefined
    const client = async () => {
      while (sent < SAVES && killed === undefined) {
        const n = ++sent
        const unit = { id: sampleId('T', n), name: `Ward ${n}`, parentId: null }
        try {
          const { status } = await browser.send('POST', '/api/units', unit)
          if (status === 200) acknowledged.push(unit)
        } catch {
          return // The connection broke: not acknowledged, so nothing is promised.
        }
        if (acknowledged.length >= SAVES / 2) killed ??= server.kill()
      }
    }
    await Promise.all(Array.from({ length: AT_A_TIME }, client))
    await killed
    expect(acknowledged.length).toBeGreaterThanOrEqual(SAVES / 2)
    expect(acknowledged.length).toBeLessThan(SAVES)

    const again = await startServer(where)
    const visitor = await networkBrowser(again.address)
    expect((await visitor.send('POST', '/api/session', owner)).status).toBe(400)
    const { email, password } = owner
    expect((await visitor.send('POST', '/api/session', { email, password })).status).toBe(200)
    const { reply } = await visitor.send('GET', '/api/units')
    const there = new Map(
      (reply['units'] as { id: string; name: string }[]).map(({ id, name }) => [id, name]),
    )
    for (const { id, name } of acknowledged) expect(there.get(id)).toBe(name)

    const verifying = promisify(execFile)(process.execPath, [MAIN, 'verify'], {
      env: environmentOf(where),
    })
    expect((await verifying).stdout).toMatch(/^Whole: /)
    expect(await again.stop()).toBe(0)

    const db = await openDatabase(where)
    expect((await db.snapshot(verify)).findings).toEqual([])
    await db.close()
  }, 120_000)
})
