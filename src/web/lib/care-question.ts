import type { AppError } from '../../errors.ts'
import { createStore } from './store.ts'

/** The server saw what looks like a patient's identifier in what is about to be saved. */
export interface CareQuestion {
  readonly error: AppError
  readonly body: unknown
}

export interface OpenCareQuestion extends CareQuestion {
  readonly answer: (save: boolean) => void
}

/** The question on the screen; the dialog host in the shell shows it. */
export const careQuestion = createStore<OpenCareQuestion | null>(null)

/** Asks the person; resolves to whether to save the text as it is. One question at a time. */
export async function askAboutText(question: CareQuestion): Promise<boolean> {
  while (careQuestion.get() !== null) {
    await new Promise<void>((resolve) => {
      const stop = careQuestion.subscribe(() => {
        stop()
        resolve()
      })
    })
  }
  return new Promise((resolve) => {
    careQuestion.set({
      ...question,
      answer: (save) => {
        careQuestion.set(null)
        resolve(save)
      },
    })
  })
}
