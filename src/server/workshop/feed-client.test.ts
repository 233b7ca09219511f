import { createServer, get } from 'node:http'
import { type AddressInfo, connect } from 'node:net'
import { expect, it } from 'vitest'
import { type FeedClient, feedClient, message } from './feed-client.ts'

/** A server whose every response is a feed. */
async function feedServer() {
  const clients: FeedClient[] = []
  const gone: FeedClient[] = []
  const server = createServer((_, response) => {
    const client = feedClient(
      response,
      { as: 'screen' },
      async () => true,
      (left) => gone.push(left),
    )
    clients.push(client)
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  return { clients, gone, port, close: () => server.close() }
}
const soon = async (holds: () => boolean) => {
  for (let i = 0; i < 200 && !holds(); i++) await new Promise((resolve) => setTimeout(resolve, 10))
  expect(holds()).toBe(true)
}

it('frames text so that any reader of HTTP gets exactly that text', async () => {
  const { clients, port, close } = await feedServer()
  const texts = ['id: 1\n\n', `data: ${'Zwölf Tische – “schnell”'.repeat(500)}\n\n`]
  let read = ''
  const request = get({ port, host: '127.0.0.1' }, (response) => {
    response.setEncoding('utf8')
    response.on('data', (chunk) => {
      read += chunk
    })
  })
  await soon(() => clients.length === 1)
  for (const text of texts) clients[0]!.send(message(text))
  await soon(() => read === `retry: 1000\n\n${texts.join('')}`)
  request.destroy()
  close()
})

it('sends the plain text to a reader that knows no chunks', async () => {
  const { clients, port, close } = await feedServer()
  let read = ''
  const socket = connect(port, '127.0.0.1')
  socket.on('data', (chunk) => {
    read += chunk
  })
  socket.write('GET / HTTP/1.0\r\n\r\n')
  await soon(() => clients.length === 1)
  clients[0]!.send(message('id: 7\n\n'))
  await soon(() => read.endsWith('\r\n\r\nretry: 1000\n\nid: 7\n\n'))
  socket.destroy()
  close()
})

it('lets a screen go that does not read, and only that one', async () => {
  const { clients, gone, port, close } = await feedServer()
  const open = async (n: number) => {
    const socket = connect(port, '127.0.0.1')
    socket.write('GET / HTTP/1.1\r\nhost: a\r\n\r\n')
    await soon(() => clients.length === n)
    return socket
  }
  const stuck = await open(1)
  stuck.pause()
  const steady = await open(2)
  let bytes = 0
  steady.on('data', (chunk) => {
    bytes += chunk.length
  })
  const big = message(`data: ${'x'.repeat(256 * 1024)}\n\n`)
  for (let i = 1; i <= 40; i++) {
    for (const client of clients) client.send(big)
    await soon(() => bytes > i * 256 * 1024)
  }
  await soon(() => gone.includes(clients[0]!))
  expect(gone).not.toContain(clients[1])
  stuck.destroy()
  steady.destroy()
  close()
})
