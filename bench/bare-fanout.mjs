// The least that sends events: a POST is answered and its text written to every screen of a group
// with response.write. No database, no rights, nothing computed.
import { createServer } from 'node:http'

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
    else for (const screen of groups.get(group) ?? []) screen.write(texts.get(group))
    response.end('{}')
  })
})
server.listen(0, '127.0.0.1', () => console.log(`ready: http://127.0.0.1:${server.address().port}`))
