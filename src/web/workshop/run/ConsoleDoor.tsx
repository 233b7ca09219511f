import type { ReactNode } from 'react'
import { Link } from 'wouter'
import { isOnlyHere } from '../lib/only-here.ts'
import { QrCode } from './QrCode.tsx'
import { useConsole } from './use-console.ts'

export interface ConsoleDoorProps {
  readonly origin: string
  /** What stands after the links. */
  readonly children: ReactNode
}

/** How people get in, and where else this workshop leads. */
export function ConsoleDoor({ origin, children }: ConsoleDoorProps) {
  const { room } = useConsole().state
  const join = `${origin}/t/${room.code}`
  return (
    <div className="console-door">
      <QrCode text={join} label={`QR code that opens ${join}`} />
      <div>
        <p className="console-code">
          <span className="hidden-text">{`Code ${[...room.code].join(' ')}`}</span>
          <span aria-hidden="true">{`${room.code.slice(0, 3)} ${room.code.slice(3)}`}</span>
        </p>
        <p className="small soft">{`${origin.replace(/^https?:\/\//, '')}/t`}</p>
        {isOnlyHere(new URL(origin).hostname) && (
          <p className="small console-only-here">
            Phones cannot reach this address; only this machine can.
          </p>
        )}
      </div>
      <ul className="console-links bare">
        <li>
          <a href={`/screen/${room.code}`} target="_blank" rel="noopener">
            Room screen (new window)
          </a>
        </li>
        <li>
          <Link href={`/workshops/${room.id}/print`}>Cards and worksheets</Link>
        </li>
        <li>
          <Link href={`/workshops/${room.id}/keying`}>Key in paper</Link>
        </li>
        <li>
          <Link href={`/workshops/${room.id}/wrap-up`}>Wrap-up</Link>
        </li>
        <li>{children}</li>
      </ul>
    </div>
  )
}
