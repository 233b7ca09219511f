import { useEffect } from 'preact/hooks'

/** Keeps the screen on while the clock runs, where the browser can. */
export function useWakeLock(): void {
  useEffect(() => {
    if (!('wakeLock' in navigator)) return
    let lock: WakeLockSentinel | null = null
    let over = false
    const hold = async () => {
      if (document.visibilityState !== 'visible') return
      const got = await navigator.wakeLock.request('screen').catch(() => null)
      if (over) void got?.release()
      else lock = got
    }
    void hold()
    document.addEventListener('visibilitychange', hold)
    return () => {
      over = true
      document.removeEventListener('visibilitychange', hold)
      void lock?.release()
    }
  }, [])
}
