import { Page } from '../ui/Page.tsx'

export function SettingsPage() {
  return <Page title="SettingsPage">{null}</Page>
}
