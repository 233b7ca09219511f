let said = false

/** Marks the moment from which a person can do something; measured from the start of the load. */
export function ready(): void {
  if (said) return
  said = true
  // After the frame that shows it.
  requestAnimationFrame(() =>
    setTimeout(() => {
      performance.mark('ready')
      dispatchEvent(new Event('pawl-ready'))
    }),
  )
}
