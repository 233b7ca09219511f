import { Component, type ReactNode } from 'react'
import { asAppError } from '../lib/api.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { Page } from '../ui/Page.tsx'
import { FrontDoor } from './FrontDoor.tsx'

interface BrokenProps {
  /** Inside the shell, the header stays and other pages can be reached. */
  readonly inShell?: boolean
  readonly children: ReactNode
}

interface State {
  readonly thrown: unknown
}

/** Stands in for a page that fails, so that nobody faces an empty window. */
export class Broken extends Component<BrokenProps, State> {
  override state: State = { thrown: null }

  static getDerivedStateFromError(thrown: unknown): State {
    return { thrown }
  }

  override render() {
    if (this.state.thrown === null) return this.props.children
    const Frame = this.props.inShell === true ? Page : FrontDoor
    return (
      <Frame title="This page does not work">
        <ErrorNotice error={asAppError(this.state.thrown)}>
          <Button look="main" onClick={() => location.reload()}>
            Load the page again
          </Button>
        </ErrorNotice>
      </Frame>
    )
  }
}
