/** Moves focus to a field of the page by the name that issues give it, such as `question`. */
export function focusField(name: string): void {
  const wrapper = document.querySelector<HTMLElement>(`[data-field="${CSS.escape(name)}"]`)
  const control = wrapper?.querySelector<HTMLElement>('input, textarea, select, button, a')
  control?.focus({ preventScroll: true })
  wrapper?.scrollIntoView({ block: 'center' })
}
