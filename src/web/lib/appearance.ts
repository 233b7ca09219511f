import { createStore } from './store.ts'

const APPEARANCES = ['system', 'light', 'dark'] as const
export type Appearance = (typeof APPEARANCES)[number]

const KEY = 'pawl.appearance'

function stored(): Appearance {
  try {
    const value = localStorage.getItem(KEY)
    return APPEARANCES.find((known) => known === value) ?? 'system'
  } catch {
    return 'system'
  }
}

export const appearance = createStore<Appearance>(stored())

/** Shows the chosen colour scheme; called once before the first page is drawn. */
export function applyAppearance(): void {
  document.documentElement.dataset['appearance'] = appearance.get()
}

export function chooseAppearance(choice: Appearance): void {
  appearance.set(choice)
  applyAppearance()
  try {
    localStorage.setItem(KEY, choice)
  } catch {
    // Without storage the choice holds until the page is closed.
  }
}
