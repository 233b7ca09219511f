import { Page } from '../ui/Page.tsx'

export function NotFoundPage() {
  return <Page title="NotFoundPage">{null}</Page>
}
