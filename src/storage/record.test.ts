import { afterAll, beforeAll, expect, it } from 'vitest'
import { onBothEngines } from '../../tests/support/engines.ts'
import type { Unit } from '../domain/record.ts'
import { type Database, openDatabase } from './database.ts'
import { canonicalText, hashOf } from './journal.ts'

const by = { id: '01J00000000000000000000001', name: 'R. Marsh' }
const at = '2026-03-02T09:15:00.000Z'
const unit = (n: number, name = `Ward ${n}`): Unit => ({
  id: `01J0000000000000000000U${String(n).padStart(3, '0')}`,
  parentId: null,
  name,
  origin: 'own',
  version: 1,
})

onBothEngines('record', ({ place }) => {
  let db: Database
  let where: Awaited<ReturnType<typeof place>>
  beforeAll(async () => {
    where = await place()
    db = await openDatabase(where)
  })
  afterAll(() => db.close())
  const journal = () => db.read.selectFrom('journal').selectAll().orderBy('seq').execute()
  const entry = (action: string) => ({ action, by, at })

  it('writes a row and its journal entry together', async () => {
    const row = unit(1)
    expect(await db.record(entry('unit.create'), (write) => write.insert('unit', row))).toEqual(row)
    expect(await db.read.selectFrom('unit').selectAll().execute()).toEqual([row])
    const [first] = await journal()
    expect(first).toMatchObject({
      seq: 1,
      at,
      personId: by.id,
      action: 'unit.create',
      prevHash: '',
    })
    expect(JSON.parse(first!.changes)).toEqual([
      { table: 'unit', id: row.id, before: null, after: row },
    ])
  })

  it('journals only the columns that changed, and raises the version', async () => {
    const saved = await db.record(entry('unit.rename'), (write) =>
      write.update('unit', unit(1).id, 1, { name: 'Ward 1b', parentId: null }),
    )
    expect(saved).toEqual({ ...unit(1, 'Ward 1b'), version: 2 })
    const last = (await journal()).at(-1)!
    expect(JSON.parse(last.changes)).toEqual([
      {
        table: 'unit',
        id: unit(1).id,
        before: { name: 'Ward 1', version: 1 },
        after: { name: 'Ward 1b', version: 2 },
      },
    ])
  })

  it('saves nothing when nothing changes', async () => {
    const before = (await journal()).length
    const same = await db.record(entry('unit.rename'), (write) =>
      write.update('unit', unit(1).id, 2, { name: 'Ward 1b' }),
    )
    expect(same.version).toBe(2)
    expect(await journal()).toHaveLength(before)
  })

  it('refuses a stale save and shows both versions', async () => {
    const stale = db.record(entry('unit.rename'), (write) =>
      write.update('unit', unit(1).id, 1, { name: 'Ward One' }),
    )
    await expect(stale).rejects.toMatchObject({
      code: 'record.stale',
      details: {
        current: { name: 'Ward 1b', version: 2 },
        yours: { name: 'Ward One', version: 1 },
      },
    })
  })

  it('undoes all of a write that fails half way, and leaves its neighbours alone', async () => {
    const before = (await journal()).length
    const results = await Promise.allSettled([
      db.record(entry('unit.create'), (write) => write.insert('unit', unit(2))),
      db.record(entry('unit.create'), async (write) => {
        await write.insert('unit', unit(3))
        await write.insert('unit', unit(3))
      }),
      db.record(entry('unit.create'), (write) => write.insert('unit', unit(4))),
    ])
    expect(results.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled'])
    expect(results[1]).toMatchObject({ reason: { code: 'record.exists' } })
    const ids = (await db.read.selectFrom('unit').select('id').orderBy('id').execute()).map(
      (row) => row.id,
    )
    expect(ids).toEqual([unit(1).id, unit(2).id, unit(4).id])
    expect(await journal()).toHaveLength(before + 2)
  })

  it('chains every row to the one before, whichever process wrote it', async () => {
    const other = await openDatabase(where)
    await Promise.all(
      Array.from({ length: 60 }, (_, i) =>
        (i % 2 === 0 ? db : other).record(entry('unit.create'), (write) =>
          write.insert('unit', unit(100 + i)),
        ),
      ),
    )
    await other.close()
    let prevHash = ''
    for (const [i, row] of (await journal()).entries()) {
      expect(row.seq).toBe(i + 1)
      expect(row.prevHash).toBe(prevHash)
      expect(row.hash).toBe(hashOf(row))
      prevHash = row.hash
    }
  })

  it('never lets a secret into the journal', async () => {
    await db.record(entry('person.create'), (write) =>
      write.insert('person', {
        id: by.id,
        name: by.name,
        email: 'r.marsh@saltmarsh.example',
        role: 'owner',
        passwordHash: '$argon2id$not-for-the-journal',
        closedAt: null,
        origin: 'own',
        version: 1,
      }),
    )
    const { changes } = (await journal()).at(-1)!
    expect(changes).not.toContain('not-for-the-journal')
    expect(JSON.parse(changes)[0].after.passwordHash).toMatch(/^secret, sha256 [0-9a-f]{64}$/)
  })

  it('says which record is not there', async () => {
    const missing = db.record(entry('unit.rename'), (write) =>
      write.update('unit', unit(999).id, 1, { name: 'Nowhere' }),
    )
    await expect(missing).rejects.toMatchObject({ code: 'record.not_found' })
  })
})

it('hashes a documented text that anyone can recompute', () => {
  const row = {
    seq: 1,
    at,
    personId: null,
    personName: '',
    action: 'unit.create',
    changes: '[]',
    prevHash: '',
  }
  expect(canonicalText(row)).toBe(
    '["pawl-journal-1",1,"2026-03-02T09:15:00.000Z",null,"","unit.create","[]",""]',
  )
  // From `printf '%s' TEXT | sha256sum` of GNU coreutils.
  expect(hashOf(row)).toBe('666f4cd2e44b2029d606e4a3694f334b0231f48b18253af7c6a3ef758ae8e169')
})
