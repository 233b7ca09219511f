import { Page } from '../ui/Page.tsx'

export function MeasurePage(props: { readonly id: string }) {
  return <Page title="">{JSON.stringify(props)}</Page>
}
