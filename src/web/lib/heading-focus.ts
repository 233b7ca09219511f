/** The page shown before; the first page of a visit leaves focus where the browser puts it. */
let shown: string | null = null

/**
 * Gives focus to the heading of a page that the reader has just come to, so that reading goes on
 * there.
 *
 * @param page The page's address, or any name that differs from the page before.
 */
export function arriveAt(page: string, heading: HTMLElement | null): void {
  if (shown !== null && shown !== page) heading?.focus({ preventScroll: true })
  shown = page
}
