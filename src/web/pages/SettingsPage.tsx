import { Link } from 'wouter'
import { type Appearance, appearance, chooseAppearance } from '../lib/appearance.ts'
import { useMe } from '../lib/session.ts'
import { useStore } from '../lib/use-store.ts'
import { Page } from '../ui/Page.tsx'
import { RadioCards } from '../ui/RadioCards.tsx'
import { Section } from '../ui/Section.tsx'

export function SettingsPage() {
  const me = useMe()
  const chosen = useStore(appearance)
  return (
    <Page title="Settings">
      <Section title="Appearance" aside={<p>Kept on this device.</p>}>
        <RadioCards<Appearance>
          legend="Colours"
          across
          value={chosen}
          onChange={chooseAppearance}
          choices={[
            { value: 'system', label: 'As the device', hint: 'Follows its light or dark setting.' },
            { value: 'light', label: 'Light', hint: 'Ink on paper.' },
            { value: 'dark', label: 'Dark', hint: 'Paper on ink.' },
          ]}
        />
      </Section>
      <Section title="Account">
        <p>{`You are signed in as ${me.name}, with ${me.email}.`}</p>
        <p>
          <Link href="/settings/password">Change your password</Link>
        </p>
      </Section>
    </Page>
  )
}
