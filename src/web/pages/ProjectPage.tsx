import { Page } from '../ui/Page.tsx'

export function ProjectPage({ id }: { id: string }) {
  return <Page title={id}>{null}</Page>
}
