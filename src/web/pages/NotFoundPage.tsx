import { LinkButton } from '../ui/Button.tsx'
import { Page } from '../ui/Page.tsx'

export function NotFoundPage() {
  return (
    <Page title="There is no page here">
      <div className="stack">
        <p>
          The address may be mistyped, or what stood here has been removed. Look for it under
          Projects.
        </p>
        <div className="row">
          <LinkButton href="/projects">Go to Projects</LinkButton>
          <LinkButton href="/" look="quiet">
            Go to Today
          </LinkButton>
        </div>
      </div>
    </Page>
  )
}
