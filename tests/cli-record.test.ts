import { spawnSync } from 'node:child_process'
import { existsSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { beforeAll, expect, it } from 'vitest'
import { openDatabase, type Place } from '../src/storage/database.ts'
import { onBothEngines } from './support/engines.ts'
import { networkBrowser } from './support/network-browser.ts'
import { rawSql } from './support/raw-sql.ts'
import { NOW, OWNER, writeSample } from './support/sample-record.ts'
import { environmentOf, startServer } from './support/server-process.ts'

const MAIN = fileURLToPath(new URL('../src/cli/main.ts', import.meta.url))

function pawl(place: Place, ...args: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [MAIN, ...args], {
    env: environmentOf(place),
    encoding: 'utf8',
  })
  return { status, stdout, stderr }
}

onBothEngines('the record from the command line', ({ place }) => {
  let where: Place
  beforeAll(async () => {
    where = await place()
    const db = await openDatabase(where)
    await db.record({ action: 'sample', by: OWNER, at: NOW }, (write) => writeSample(write))
    await db.close()
  })

  it('is verified, backed up, restored elsewhere, and verified again', async () => {
    const file = join(where.dataDir, '..', `${Date.now()}.backup`)
    const first = pawl(where, 'verify')
    expect(first).toMatchObject({ status: 0, stderr: '' })
    const head = /Head: (\w{64})/.exec(first.stdout)![1]!
    expect(pawl(where, 'backup', file).stdout).toMatch(/Wrote .*cycle 2.*journal 1/)
    const target = await place()
    const restored = pawl(target, 'restore', file)
    expect(restored).toMatchObject({ status: 0, stderr: '' })
    expect(restored.stdout).toMatch(/Restored unit 1,.*\nVerified: /)
    expect(pawl(target, 'verify', '--head', head).status).toBe(0)
    const other = pawl(target, 'verify', '--head', 'f'.repeat(64))
    expect(other.status).toBe(1)
    expect(other.stderr).toContain('cut off')
    expect(pawl(target, 'restore', file)).toMatchObject({ status: 2 })
  }, 60_000)

  it('fails verification with the place named, and exit code 1', async () => {
    const raw = await rawSql(where)
    await raw.run(`UPDATE "measure" SET "goal" = 0.5`)
    await raw.close()
    const { status, stderr } = pawl(where, 'verify')
    expect(status).toBe(1)
    expect(stderr).toMatch(/measure 01J\w+, column goal: the journal says 0.8, the table says 0.5/)
  }, 30_000)

  it('refuses wrong input with exit code 2, and leaves nothing behind', async () => {
    const empty = await place()
    const bad = join(where.dataDir, '..', 'bad.sqlite')
    writeFileSync(bad, 'text')
    for (const args of [
      ['verify'],
      ['backup', `${bad}.copy`],
      ['restore', bad],
      ['restore', `${bad}.absent`],
      ['restore'],
      ['backup', 'a', 'b'],
      ['serve', '--demonstration'],
      ['nothing'],
      [],
    ]) {
      const { status, stderr, stdout } = pawl(empty, ...args)
      expect(status, args.join(' ')).toBe(2)
      expect(stderr + stdout).not.toMatch(/\n {4}at /)
    }
    expect(existsSync(empty.dataDir)).toBe(false)
    expect(pawl(empty, 'nothing').stderr).toContain('serve')
  }, 120_000)

  it('says what is wrong when the server cannot start, and ends', async () => {
    const running = await startServer(await place())
    const taken = { ...environmentOf(await place()), PORT: new URL(running.address).port }
    const second = spawnSync(process.execPath, [MAIN, 'serve'], { env: taken, encoding: 'utf8' })
    expect(second.status).toBe(1)
    expect(second.stderr).toMatch(/^pawl: Something else listens on 127\.0\.0\.1, port \d+ already/)
    await running.stop()

    const folder = (await place()).dataDir
    writeFileSync(folder, 'a file where the folder should be')
    for (const env of [
      { PORT: 'seven' },
      { PORT: '0', PAWL_ORIGIN: 'pawl.example' },
      { PORT: '0', PAWL_DATA: folder, DATABASE_URL: '' },
      { PORT: '0', DATABASE_URL: 'postgresql://nobody@127.0.0.1:1/none' },
    ]) {
      const { status, stderr } = spawnSync(process.execPath, [MAIN, 'serve'], {
        env: { ...environmentOf(await place()), ...env },
        encoding: 'utf8',
        timeout: 30_000,
      })
      expect(status).toBeGreaterThan(0)
      expect(stderr).toMatch(/^pawl: .+\n.+\n$/)
    }
  }, 120_000)

  it('is served with the example and a password made for the run', async () => {
    const server = await startServer(await place(), 'source', ['--demo'])
    expect(server.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/)
    const browser = await networkBrowser(server.address)
    const { reply } = await browser.send('GET', '/api/session')
    expect(reply).toMatchObject({ example: 'present', needsOwner: false })
    expect(await server.stop()).toBe(0)
  }, 30_000)
})
