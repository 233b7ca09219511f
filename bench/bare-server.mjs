// The least that is a server with a database: one route, one SQLite file, one query.
import { DatabaseSync } from 'node:sqlite'
import fastify from 'fastify'

const db = new DatabaseSync(process.argv[2])
db.exec(
  'PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; CREATE TABLE IF NOT EXISTS hello (word TEXT)',
)
const count = db.prepare('SELECT COUNT(*) AS n FROM hello')
const app = fastify()
app.get('/', async () => count.get())
console.log(`ready: ${await app.listen({ host: '127.0.0.1', port: 0 })}`)
