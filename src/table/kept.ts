/** What a phone keeps on itself: strings by name. `localStorage` is one. */
export interface Shelf {
  readonly length: number
  key(index: number): string | null
  getItem(name: string): string | null
  setItem(name: string, value: string): void
  removeItem(name: string): void
}

/** A shelf for browsers that keep nothing: it lasts as long as the page. */
export function pageShelf(): Shelf {
  const kept = new Map<string, string>()
  return {
    get length() {
      return kept.size
    },
    key: (index) => [...kept.keys()][index] ?? null,
    getItem: (name) => kept.get(name) ?? null,
    setItem: (name, value) => void kept.set(name, value),
    removeItem: (name) => void kept.delete(name),
  }
}

/** What is kept under a name, or `null`; what cannot be read counts as not there. */
export function readKept<T>(shelf: Shelf, name: string): T | null {
  const text = shelf.getItem(name)
  if (text === null) return null
  try {
    return JSON.parse(text) as T
  } catch {
    return null
  }
}

export function keep(shelf: Shelf, name: string, value: unknown): void {
  if (value === null) shelf.removeItem(name)
  else shelf.setItem(name, JSON.stringify(value))
}

/** Names that begin with `prefix`, sorted. */
export function namesOf(shelf: Shelf, prefix: string): string[] {
  const names: string[] = []
  for (let i = 0; i < shelf.length; i++) {
    const name = shelf.key(i)
    if (name?.startsWith(prefix)) names.push(name)
  }
  return names.sort()
}
