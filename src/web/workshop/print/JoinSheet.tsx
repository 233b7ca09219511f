import { QrCode } from '../run/QrCode.tsx'

export interface JoinSheetProps {
  readonly workshop: string
  readonly code: string
  /** Where phones reach Pawl. */
  readonly origin: string
}

/** How people get in: a code to scan, and one to type. */
export function JoinSheet({ workshop, code, origin }: JoinSheetProps) {
  const address = `${origin}/t/${code}`
  return (
    <article className="sheet join-sheet" aria-label="How to join">
      <header className="sheet-head">
        <h2>{workshop}</h2>
      </header>
      <p>Scan this with the camera of a phone. No account is needed, and no full name.</p>
      <QrCode text={address} label={`Code to scan: ${address}`} />
      <p>Or open</p>
      <p className="join-address">{`${origin.replace(/^https?:\/\//, '')}/t`}</p>
      <p>and type</p>
      <p className="join-code">{`${code.slice(0, 3)} ${code.slice(3)}`}</p>
    </article>
  )
}
