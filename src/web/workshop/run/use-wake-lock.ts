import { useEffect } from 'react'

/** Keeps the screen from going dark while it is shown, where the browser can. */
export function useWakeLock(): void {
  useEffect(() => {
    if (!('wakeLock' in navigator)) return
    let lock: WakeLockSentinel | null = null
    let over = false
    const take = async () => {
      if (document.visibilityState !== 'visible') return
      try {
        lock = await navigator.wakeLock.request('screen')
        if (over) await lock.release()
      } catch {
        // Refused when the battery is low; the screen then follows the device's own setting.
      }
    }
    void take()
    // The browser lets go of it whenever the page is hidden.
    const again = () => void take()
    document.addEventListener('visibilitychange', again)
    return () => {
      over = true
      document.removeEventListener('visibilitychange', again)
      void lock?.release()
    }
  }, [])
}
