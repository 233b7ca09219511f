import { lazy, Suspense, useCallback, useEffect, useState } from 'react'
import { useRoute } from 'wouter'
import type { AppError } from '../errors.ts'
import { asAppError, call } from './lib/api.ts'
import { receiveSession, useSession } from './lib/session.ts'
import { FirstVisitPage } from './pages/FirstVisitPage.tsx'
import { SignInPage } from './pages/SignInPage.tsx'
import { Pages } from './routes.tsx'
import { FrontDoor } from './shell/FrontDoor.tsx'
import { Shell } from './shell/Shell.tsx'
import { Button } from './ui/Button.tsx'
import { ErrorNotice } from './ui/Notice.tsx'
import { Waiting } from './ui/Waiting.tsx'

const ScreenPage = lazy(() =>
  import('./workshop/run/ScreenPage.tsx').then((m) => ({ default: m.ScreenPage })),
)

/** A room screen needs nobody to sign in; everything else is for people with an account. */
export function App() {
  const [isScreen, params] = useRoute('/screen/:code')
  if (!isScreen) return <SignedIn />
  return (
    <Suspense fallback={null}>
      <ScreenPage key={params.code} code={params.code} />
    </Suspense>
  )
}

/** Decides what a visitor sees: the first visit, the sign-in, or the console. */
function SignedIn() {
  const { reply, ended } = useSession()
  const [error, setError] = useState<AppError | null>(null)
  const read = useCallback(() => {
    setError(null)
    call('GET /api/session').then(receiveSession, (thrown) => setError(asAppError(thrown)))
  }, [])
  useEffect(read, [read])

  if (reply === null) {
    return (
      <FrontDoor title="Pawl">
        {error === null ? (
          <Waiting what="Pawl" />
        ) : (
          <ErrorNotice error={error}>
            <Button onClick={read}>Try again</Button>
          </ErrorNotice>
        )}
      </FrontDoor>
    )
  }
  if (reply.needsOwner) return <FirstVisitPage />
  if (reply.me === null) return <SignInPage ended={ended} />
  return (
    <Shell>
      <Pages />
    </Shell>
  )
}
