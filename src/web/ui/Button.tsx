import type { ButtonHTMLAttributes, MouseEvent, ReactNode } from 'react'
import { Link } from 'wouter'

type Look = 'main' | 'plain' | 'quiet'

const classes = (look: Look, extra: string | undefined) =>
  ['button', look === 'plain' ? '' : look, extra ?? ''].filter(Boolean).join(' ')

export interface ButtonProps extends ButtonHTMLAttributes<HTMLButtonElement> {
  /** `main`: the one thing to do here. `quiet`: reads as a link. */
  readonly look?: Look
  /** While true the button keeps its place and focus, and does nothing; `busyText` says why. */
  readonly busy?: boolean
  readonly busyText?: string
}

export function Button({
  look = 'plain',
  busy = false,
  busyText,
  className,
  onClick,
  children,
  type = 'button',
  ...rest
}: ButtonProps) {
  const press = (event: MouseEvent<HTMLButtonElement>) => {
    // Kept focusable, so that a screen reader is not thrown to the top of the page.
    if (busy) event.preventDefault()
    else onClick?.(event)
  }
  return (
    <button
      {...rest}
      type={type}
      className={classes(look, className)}
      aria-disabled={busy || undefined}
      onClick={press}
    >
      {busy && busyText !== undefined ? busyText : children}
    </button>
  )
}

export interface LinkButtonProps {
  readonly href: string
  readonly look?: Look
  readonly className?: string
  readonly children: ReactNode
}

/** Looks like a button, goes to a page. */
export function LinkButton({ href, look = 'plain', className, children }: LinkButtonProps) {
  return (
    <Link href={href} className={classes(look, className)}>
      {children}
    </Link>
  )
}
