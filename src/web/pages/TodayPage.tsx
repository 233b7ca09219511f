import { Page } from '../ui/Page.tsx'

export function TodayPage() {
  return <Page title="TodayPage">{null}</Page>
}
