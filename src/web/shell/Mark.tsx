const WHEEL =
  'M20.4 17.4L22.6 25.3L19.4 23.1L15.4 30.2L14.6 26.4L6.7 28.6L8.9 25.4L1.8 21.4L5.6 20.6L3.4 12.7L6.6 14.9L10.6 7.8L11.4 11.6L19.3 9.4L17.1 12.6L24.2 16.6ZM15.6 19a2.6 2.6 0 1 0-5.2 0a2.6 2.6 0 1 0 5.2 0Z'
const PAWL = 'M18.9 12.9 20.3 10.1 25.4 4.3A3.4 3.4 0 1 1 28.8 10.1Z'

/** The mark: a ratchet wheel and the pawl behind its tooth, so that what was gained does not slip. */
export function Mark({ size = 32 }: { size?: number }) {
  return (
    <svg width={size} height={size} viewBox="0 0 32 32" aria-hidden="true">
      <path className="mark-wheel" fillRule="evenodd" d={WHEEL} />
      <path className="mark-pawl" d={PAWL} />
    </svg>
  )
}
