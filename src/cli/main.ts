#!/usr/bin/env node
import { AppError } from '../errors.ts'

interface Command {
  readonly summary: string
  /** Loaded only when it is the one that runs. */
  readonly load: () => Promise<{ run(args: readonly string[]): Promise<void> }>
}

const COMMANDS: Readonly<Record<string, Command>> = {
  serve: { summary: 'start the server', load: () => import('./serve.ts') },
  chart: { summary: 'draw a chart from a CSV file', load: () => import('./chart.ts') },
  verify: { summary: 'check that the record is whole', load: () => import('./verify.ts') },
  backup: { summary: 'copy the record to one file', load: () => import('./backup.ts') },
  restore: { summary: 'bring a backup back', load: () => import('./restore.ts') },
}

/** Codes that say the program could not do its work, rather than that its input is wrong. */
const FAILURES = /^(?:storage|server|verify)\./

function usage(): string {
  const width = Math.max(...Object.keys(COMMANDS).map((name) => name.length))
  const lines = Object.entries(COMMANDS).map(
    ([name, { summary }]) => `  ${name.padEnd(width)}  ${summary}`,
  )
  return [
    'Usage: pawl COMMAND [options]',
    '',
    ...lines,
    '',
    'pawl COMMAND --help tells more.',
  ].join('\n')
}

async function main([name, ...args]: readonly string[]): Promise<void> {
  if (name === undefined || name === '--help' || name === '-h' || name === 'help') {
    console.log(usage())
    if (name === undefined) process.exitCode = 2
    return
  }
  const command = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined
  if (command === undefined) {
    console.error(`pawl: there is no command "${name}".\n\n${usage()}`)
    process.exitCode = 2
    return
  }
  await (await command.load()).run(args)
}

// Whoever reads the output may stop early, as `head` does.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit()
  throw error
})

try {
  await main(process.argv.slice(2))
} catch (error) {
  process.exitCode = 1
  if (error instanceof AppError) {
    console.error(`pawl: ${error.message}\n${error.hint}`)
    if (!FAILURES.test(error.code)) process.exitCode = 2
  } else console.error(error)
}
