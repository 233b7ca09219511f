import { Page } from '../ui/Page.tsx'

export function RampPage(props: { readonly projectId: string; readonly rampId: string }) {
  return <Page title="">{JSON.stringify(props)}</Page>
}
