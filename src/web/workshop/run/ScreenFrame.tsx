import type { ReactNode } from 'react'

export interface ScreenFrameProps {
  readonly title: ReactNode
  /** Top right: the task and how many tables. */
  readonly aside: string
  /** Sentences under the picture. */
  readonly words?: readonly string[]
  readonly children: ReactNode
}

/** One page of the room screen: it fills the window and never scrolls on a projector. */
export function ScreenFrame({ title, aside, words = [], children }: ScreenFrameProps) {
  return (
    <>
      <header className="screen-head">
        <h1>{title}</h1>
        <p>{aside}</p>
      </header>
      <div className="screen-body">{children}</div>
      {words.length > 0 && <p className="screen-words">{words.join(' ')}</p>}
    </>
  )
}
