import { Page } from '../ui/Page.tsx'

export function PasswordPage() {
  return <Page title="PasswordPage">{null}</Page>
}
