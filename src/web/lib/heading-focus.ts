/** The page shown before; the first page of a visit leaves focus where the browser puts it. */
let shown: string | null = null

/** The heading of the part of the page that the address names after `#`. */
function partHeading(): HTMLElement | null {
  const id = decodeURIComponent(location.hash.slice(1))
  const part = id === '' ? null : document.getElementById(id)
  return part?.querySelector<HTMLElement>('h2, h3') ?? part
}

/**
 * Gives focus to the heading of a page that the reader has just come to, so that reading goes on
 * there; to that of a part of it where the address names one.
 *
 * @param page The page's address, or any name that differs from the page before.
 */
export function arriveAt(page: string, heading: HTMLElement | null): void {
  const part = partHeading()
  if (shown !== page && part !== null) {
    part.tabIndex = -1
    part.focus({ preventScroll: true })
    part.scrollIntoView()
  } else if (shown !== null && shown !== page) {
    heading?.focus({ preventScroll: true })
  }
  shown = page
}
