/** The mark: a pawl that rests behind a tooth, so that what was gained does not slip. */
export function Mark({ size = 32 }: { size?: number }) {
  return (
    <svg width={size} height={size} viewBox="0 0 32 32" aria-hidden="true">
      <path fill="currentColor" d="M2 29v-4l9-8v8l9-8v8l9-8v12z" />
      <path
        className="mark-pawl"
        fill="none"
        strokeWidth="3.4"
        strokeLinecap="round"
        strokeLinejoin="round"
        d="M26 6 13.4 15.4v4.2"
      />
      <circle className="mark-pivot" cx="26" cy="6" r="3.2" />
    </svg>
  )
}
