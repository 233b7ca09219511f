import { Page } from '../ui/Page.tsx'

export function PeoplePage() {
  return <Page title="PeoplePage">{null}</Page>
}
