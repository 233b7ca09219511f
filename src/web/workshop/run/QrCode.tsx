import { useMemo } from 'react'
import { encode } from 'uqr'

export interface QrCodeProps {
  readonly text: string
  /** What it leads to, for those who do not scan it. */
  readonly label: string
}

/** Quiet zone that scanners need, in modules (ISO/IEC 18004: 4). */
const BORDER = 4

/** A QR code as one path. Always dark on light: many scanners do not read it the other way round. */
export function QrCode({ text, label }: QrCodeProps) {
  const { size, d } = useMemo(() => {
    const code = encode(text, { ecc: 'M', border: BORDER })
    let path = ''
    for (const [y, row] of code.data.entries())
      for (const [x, dark] of row.entries()) if (dark) path += `M${x},${y}h1v1h-1z`
    return { size: code.size, d: path }
  }, [text])
  return (
    <svg
      className="qr"
      role="img"
      aria-label={label}
      viewBox={`0 0 ${size} ${size}`}
      shapeRendering="crispEdges"
    >
      <rect className="qr-light" width={size} height={size} />
      <path className="qr-dark" d={d} />
    </svg>
  )
}
