import { useEffect, useId, useRef, useState } from 'react'
import { Link, useLocation } from 'wouter'
import type { Role } from '../../domain/record.ts'
import { asAppError, call } from '../lib/api.ts'
import { forgetQueries } from '../lib/query.ts'
import { receiveSession, useMe } from '../lib/session.ts'
import { Button } from '../ui/Button.tsx'

const MAY: Readonly<Record<Role, string>> = {
  viewer: 'You may look at everything.',
  member: 'You may write records.',
  coach: 'You may write records and shape units.',
  owner: 'You may do everything, accounts included.',
}

/** The signed-in person's own links, behind their name. A disclosure: tab goes through its links. */
export function AccountMenu() {
  const me = useMe()
  const [path, navigate] = useLocation()
  const [open, setOpen] = useState(false)
  const [failed, setFailed] = useState('')
  const box = useRef<HTMLDivElement>(null)
  const button = useRef<HTMLDivElement>(null)
  const id = useId()

  // biome-ignore lint/correctness/useExhaustiveDependencies: going to a page closes the list.
  useEffect(() => setOpen(false), [path])
  useEffect(() => {
    if (!open) return
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return
      setOpen(false)
      button.current?.querySelector('button')?.focus()
    }
    const onElsewhere = (event: Event) => {
      if (event.target instanceof Node && !box.current?.contains(event.target)) setOpen(false)
    }
    document.addEventListener('keydown', onKey)
    document.addEventListener('pointerdown', onElsewhere)
    document.addEventListener('focusin', onElsewhere)
    return () => {
      document.removeEventListener('keydown', onKey)
      document.removeEventListener('pointerdown', onElsewhere)
      document.removeEventListener('focusin', onElsewhere)
    }
  }, [open])

  const signOut = async () => {
    try {
      const reply = await call('DELETE /api/session')
      forgetQueries()
      navigate('/', { replace: true })
      receiveSession(reply)
    } catch (error) {
      setFailed(asAppError(error).message)
    }
  }

  return (
    <div className="account" ref={box}>
      <div ref={button}>
        <Button look="quiet" aria-expanded={open} aria-controls={id} onClick={() => setOpen(!open)}>
          {me.name}
        </Button>
      </div>
      <div className="account-list" id={id} hidden={!open}>
        <p>{MAY[me.role]}</p>
        <ul className="bare">
          <li>
            <Link href="/settings">Settings</Link>
          </li>
          <li>
            <Link href="/settings/password">Change password</Link>
          </li>
          <li>
            <button type="button" onClick={() => void signOut()}>
              Sign out
            </button>
          </li>
        </ul>
        {failed !== '' && <p role="alert">{failed}</p>}
      </div>
    </div>
  )
}
