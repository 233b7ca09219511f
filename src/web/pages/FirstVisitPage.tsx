import { Page } from '../ui/Page.tsx'

export function FirstVisitPage() {
  return <Page title="FirstVisitPage">{null}</Page>
}
