/** Ref for a control that takes focus once, when it appears after an action. */
export const focusNow = (element: HTMLElement | null): void => element?.focus()
