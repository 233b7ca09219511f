/** Whether phones cannot get to an address because it means the device itself. */
export const isOnlyHere = (hostname: string) =>
  /^(localhost|127\.\d+\.\d+\.\d+|\[::1\])$/.test(hostname)
