import { useEffect, useMemo } from 'react'
import { Checkbox } from '../../ui/Checkbox.tsx'
import { countdownBack } from './lesson-steps.ts'
import { useConsole } from './use-console.ts'
import { useKeys, useKeysWanted } from './use-keys.ts'
import { useTalk } from './use-talk.ts'

/** Fields that a key goes to, by name; Escape leaves them, so that the keys work again. */
export const KEYED_FIELDS = { nudge: 'nudge-all', notes: 'my-notes' } as const

const fieldOf = (name: string) => document.querySelector<HTMLElement>(`[name="${name}"]`)

/** Whatever the lesson needs is in view or one key away; the keys can be turned off. */
export function ConsoleKeys() {
  const { state, act, serverNow } = useConsole()
  const { room } = state
  const { turn } = useTalk()
  const [on, setOn] = useKeysWanted()
  const keys = useMemo(
    () => ({
      n: () => turn(1),
      p: () => turn(-1),
      '+': () => {
        if (room.countdown?.kind !== 'plan') return
        void act(
          { kind: 'extend', seconds: 30 },
          { text: '30 seconds more.', moves: () => countdownBack(room, serverNow()) },
        )
      },
      a: () => fieldOf(KEYED_FIELDS.nudge)?.focus(),
      m: () => fieldOf(KEYED_FIELDS.notes)?.focus(),
    }),
    [turn, act, room, serverNow],
  )
  useKeys(on, keys)
  useEffect(() => {
    const names: readonly string[] = Object.values(KEYED_FIELDS)
    const leave = ({ key, target }: KeyboardEvent) => {
      if (key !== 'Escape' || !(target instanceof HTMLElement)) return
      if (names.includes(target.getAttribute('name') ?? '')) target.blur()
    }
    addEventListener('keydown', leave)
    return () => removeEventListener('keydown', leave)
  }, [])
  return (
    <div className="console-keys">
      <Checkbox label="Single keys" checked={on} onChange={setOn} />
      {on && (
        <p className="small soft">
          <kbd>N</kbd> next point, <kbd>P</kbd> point before, <kbd>+</kbd> 30 s more for planning,{' '}
          <kbd>A</kbd> nudge all, <kbd>M</kbd> my notes, <kbd>Esc</kbd> leaves a field
        </p>
      )}
    </div>
  )
}
