import { connect, type Socket } from 'node:net'

/** One screen: a socket that reads events, as little work each as can be. */
export interface Screen {
  /** Numbers of the events that came, in order. */
  readonly ids: number[]
  /** When the last one was there, in full. */
  lastAt: number
  lastText: string
  readonly socket: Socket
}

const EVENT = Buffer.from('\nevent: change\n')
const END = Buffer.from('\n\n')

/**
 * Opens screens on a feed and waits until each has had its first bytes of it.
 *
 * @param onEvent Called for each event of each screen.
 */
export async function openScreens(
  address: string,
  paths: readonly { readonly path: string; readonly cookie: string }[],
  onEvent: () => void,
): Promise<Screen[]> {
  const { hostname, port, host } = new URL(address)
  const open = ({ path, cookie }: (typeof paths)[number]) =>
    new Promise<Screen>((resolve, reject) => {
      const socket = connect(Number(port), hostname)
      const screen: Screen = { ids: [], lastAt: 0, lastText: '', socket }
      let held = Buffer.alloc(0)
      let ready = false
      socket.setNoDelay(true)
      socket.once('error', reject)
      socket.on('data', (chunk) => {
        held = held.length === 0 ? chunk : Buffer.concat([held, chunk])
        if (!ready && held.includes('retry: 1000')) {
          ready = true
          resolve(screen)
        }
        for (let at = held.indexOf(EVENT); at !== -1; at = held.indexOf(EVENT)) {
          const end = held.indexOf(END, at)
          if (end === -1) return
          const id = held.lastIndexOf('id: ', at)
          screen.lastAt = performance.now()
          screen.ids.push(Number(held.toString('latin1', id + 4, at)))
          screen.lastText = held.toString('utf8', id, end + 2)
          held = held.subarray(end + 2)
          onEvent()
        }
      })
      socket.write(
        `GET ${path} HTTP/1.1\r\nhost: ${host}\r\ncookie: ${cookie}\r\naccept: text/event-stream\r\n\r\n`,
      )
    })
  const screens: Screen[] = []
  for (const path of paths) screens.push(await open(path))
  return screens
}
