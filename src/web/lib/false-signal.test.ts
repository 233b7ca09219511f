import { afterEach, expect, it, vi } from 'vitest'
import { analyze } from '../../stats/analyze.ts'
import { askFalseSignal } from './false-signal.ts'
import type { FalseSignalNews, FalseSignalQuestion } from './false-signal-worker.ts'

const analysis = analyze(
  {
    at: Array.from({ length: 24 }, (_, i) => String(i + 1)),
    values: Array.from({ length: 24 }, (_, i) => (i * 7) % 11),
  },
  { kind: 'individuals' },
)

/** Runs the worker's own code on the spot, as far as its messages go. */
class WorkerOnTheSpot {
  static last: WorkerOnTheSpot
  ended = false
  onmessage: ((event: { data: FalseSignalNews }) => void) | null = null
  onerror: (() => void) | null = null
  constructor() {
    WorkerOnTheSpot.last = this
  }
  async postMessage(data: FalseSignalQuestion) {
    const scope: {
      onmessage?: (event: { data: FalseSignalQuestion }) => void
      postMessage: (data: FalseSignalNews) => void
    } = { postMessage: (news) => this.ended || this.onmessage?.({ data: news }) }
    vi.stubGlobal('self', scope)
    vi.resetModules()
    await import('./false-signal-worker.ts')
    scope.onmessage!({ data: { ...data, budget: 24_000 } })
  }
  terminate() {
    this.ended = true
  }
}

afterEach(() => vi.unstubAllGlobals())

it('tells how far the simulation is, then the sentence, and ends the worker', async () => {
  vi.stubGlobal('Worker', WorkerOnTheSpot)
  const shares: number[] = []
  const text = await new Promise<string>((resolve, reject) => {
    askFalseSignal(analysis, {
      onText: resolve,
      onShare: (share) => shares.push(share),
      onProblem: reject,
    })
  })
  expect(text).toMatch(/^With 24 points and nothing changed/)
  expect(shares.length).toBeGreaterThan(10)
  expect(shares.at(-1)).toBe(1)
  expect(shares).toEqual([...shares].sort((a, b) => a - b))
  expect(WorkerOnTheSpot.last.ended).toBe(true)
})

it('says so where the worker cannot answer', async () => {
  vi.stubGlobal('Worker', WorkerOnTheSpot)
  const broken = { ...analysis, phases: null } as unknown as typeof analysis
  const problem = await new Promise<string>((resolve, reject) => {
    askFalseSignal(broken, { onText: reject, onProblem: resolve })
  })
  expect(problem).not.toBe('')
})

it('can be cancelled, with and without workers', async () => {
  vi.stubGlobal('Worker', WorkerOnTheSpot)
  const heard: unknown[] = []
  const listener = { onText: (t: string) => heard.push(t), onProblem: (t: string) => heard.push(t) }
  askFalseSignal(analysis, listener)()
  expect(WorkerOnTheSpot.last.ended).toBe(true)
  vi.stubGlobal('Worker', undefined)
  askFalseSignal(analysis, listener)()
  await new Promise((resolve) => setTimeout(resolve, 120))
  expect(heard).toEqual([])
})

it('works without workers', async () => {
  vi.stubGlobal('Worker', undefined)
  const text = await new Promise<string>((resolve, reject) => {
    askFalseSignal(analysis, { onText: resolve, onProblem: reject })
  })
  expect(text).toMatch(/this chart would show/)
})
