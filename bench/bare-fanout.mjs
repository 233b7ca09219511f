// The least that sends events: a POST is answered and its text written to every screen of a group
// with response.write. No rights, nothing computed. With the name of a SQLite file it first keeps the
// text in it, durably: the least that loses nothing of what it has shown.
import { createServer } from 'node:http'
import { DatabaseSync } from 'node:sqlite'

let keep = () => {}
if (process.argv[2] !== undefined) {
  const db = new DatabaseSync(process.argv[2])
  db.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; CREATE TABLE event (text TEXT)')
  const insert = db.prepare('INSERT INTO event VALUES (?)')
  keep = (text) => insert.run(text)
}

const groups = new Map()
const texts = new Map()
const groupOf = (url) => new URL(url, 'http://bare').searchParams.get('group')

const server = createServer((request, response) => {
  const group = groupOf(request.url)
  if (request.method === 'GET') {
    response.writeHead(200, { 'content-type': 'text/event-stream' })
    response.write('retry: 1000\n\n')
    const screens = groups.get(group) ?? new Set()
    groups.set(group, screens.add(response))
    response.once('close', () => screens.delete(response))
    return
  }
  let body = ''
  request.on('data', (chunk) => {
    body += chunk
  })
  request.on('end', () => {
    if (request.method === 'PUT') texts.set(group, body)
    else {
      keep(texts.get(group))
      for (const screen of groups.get(group) ?? []) screen.write(texts.get(group))
    }
    response.end('{}')
  })
})
server.listen(0, '127.0.0.1', () => console.log(`ready: http://127.0.0.1:${server.address().port}`))
