import { falseSignalChance } from '../../stats/false-signal-chance.ts'
import type { Analysis } from '../../stats/types.ts'

/** What the worker is asked; the answer comes as `FalseSignalNews`. Cancelled by terminating it. */
export interface FalseSignalQuestion {
  readonly analysis: Analysis
  readonly budget: number
}

/** First any number of shares done (0–1), then the sentence, or what went wrong. */
export type FalseSignalNews =
  | { readonly share: number }
  | { readonly text: string }
  | { readonly problem: string }

self.onmessage = ({ data }: MessageEvent<FalseSignalQuestion>) => {
  const tell = (news: FalseSignalNews) => self.postMessage(news)
  try {
    const { text } = falseSignalChance(data.analysis, {
      budget: data.budget,
      onProgress: (share) => {
        tell({ share })
        return true
      },
    })
    tell({ text })
  } catch (error) {
    tell({ problem: error instanceof Error ? error.message : String(error) })
  }
}
