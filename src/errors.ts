/**
 * The only error class this project throws on purpose.
 *
 * `code` is stable (`area.problem`, listed in docs/errors.md); `message` names the offending value
 * and may be reworded; `hint` says what to do next; `details` is plain data for programs.
 */
export class AppError extends Error {
  override name = 'AppError'
  readonly code: string
  readonly hint: string
  readonly details: Readonly<Record<string, unknown>>

  constructor(
    code: string,
    message: string,
    hint: string,
    details: Readonly<Record<string, unknown>> = {},
  ) {
    super(message)
    this.code = code
    this.hint = hint
    this.details = details
  }
}
