import { Component, type ReactNode } from 'react'
import { asAppError } from '../lib/api.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { FrontDoor } from './FrontDoor.tsx'

interface State {
  readonly thrown: unknown
}

/** Stands in for the pages when one of them fails, so that nobody faces an empty window. */
export class Broken extends Component<{ children: ReactNode }, State> {
  override state: State = { thrown: null }

  static getDerivedStateFromError(thrown: unknown): State {
    return { thrown }
  }

  override render() {
    if (this.state.thrown === null) return this.props.children
    return (
      <FrontDoor title="This page does not work">
        <ErrorNotice error={asAppError(this.state.thrown)}>
          <Button look="main" onClick={() => location.reload()}>
            Load the page again
          </Button>
        </ErrorNotice>
      </FrontDoor>
    )
  }
}
