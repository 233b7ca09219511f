import { Page } from '../ui/Page.tsx'

export function ProjectsPage() {
  return <Page title="ProjectsPage">{null}</Page>
}
