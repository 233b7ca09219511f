import { Page } from '../ui/Page.tsx'

export function NewMeasurePage(props: { readonly projectId: string }) {
  return <Page title="">{JSON.stringify(props)}</Page>
}
