import { Page } from '../ui/Page.tsx'

export function AboutChartsPage() {
  return <Page title="AboutChartsPage">{null}</Page>
}
