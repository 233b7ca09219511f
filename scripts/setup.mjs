// Gets a fresh clone ready, with Node's own modules only, on any Node from 20 on:
//   node scripts/setup.mjs install   packages, if the lock file changed
//   node scripts/setup.mjs build     … and the build, if a source changed
//   node scripts/setup.mjs test      … and what the tests need from the system
import { spawn, spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmdirSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
const at = (...parts) => join(root, ...parts)
const mode = process.argv[2] ?? 'build'
const LOCK = at('.setup-lock')
const LOCK_STALE_MS = 15 * 60_000
const CHROMIUM = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome']

if (!['install', 'build', 'test'].includes(mode)) fail(`Unknown step "${mode}".`, 2)

const unlock = await lock()
let code = 0
try {
  await install()
  if (mode !== 'install') await buildApp()
  if (mode === 'test') await systemPackages()
} catch (error) {
  code = typeof error.exitCode === 'number' ? error.exitCode : 1
  console.error(`\n${error.message}`)
} finally {
  unlock()
}
process.exit(code)

async function install() {
  const stamp = at('node_modules', '.setup-stamp')
  const want = hash(
    ['package.json', 'package-lock.json'].map((f) => at(f)),
    `${process.platform} ${process.arch}`,
  )
  if (read(stamp) === want) return
  // NODE_ENV=production or an omit setting would leave the build tools out.
  const { NODE_ENV: _, npm_config_omit: __, npm_config_production: ___, ...env } = process.env
  const npm = process.env.npm_execpath
  const args = ['ci', '--include=dev', '--no-fund', '--no-audit', '--loglevel=error']
  await step(
    'Installing packages',
    npm?.endsWith('.js') ? process.execPath : 'npm',
    npm?.endsWith('.js') ? [npm, ...args] : args,
    env,
  )
  writeFileSync(stamp, want)
}

async function buildApp() {
  const stamp = at('dist', '.setup-stamp')
  const sources = [
    ...files(at('src')).filter((f) => !/\.test\.tsx?$/.test(f)),
    at('package-lock.json'),
    at('vite.config.ts'),
    at('scripts', 'build.ts'),
  ]
  const want = hash(sources)
  if (read(stamp) === want) return
  await step('Building Pawl', pinnedNode(), [at('scripts', 'build.ts')], process.env)
  writeFileSync(stamp, want)
}

/** Chromium for the page tests, SciPy and statsmodels for the cross-check of the statistics. */
async function systemPackages() {
  const missing = []
  if (!CHROMIUM.some((path) => existsSync(path)) && !process.env.CHROMIUM) missing.push('chromium')
  if (!hasPython()) missing.push('python3-scipy', 'python3-statsmodels')
  if (missing.length === 0) return
  const apt = existsSync('/usr/bin/apt-get')
  const root = process.getuid?.() === 0
  const command = `apt-get update && apt-get install -y --no-install-recommends ${missing.join(' ')}`
  if (apt && root) {
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
    const wait = ['-o', 'DPkg::Lock::Timeout=300', '-qq']
    await step('Refreshing the list of system packages', 'apt-get', [...wait, 'update'], env)
    await step(
      `Installing ${missing.join(', ')}`,
      'apt-get',
      [...wait, 'install', '-y', '--no-install-recommends', ...missing],
      env,
    )
    return
  }
  const how = apt
    ? `Run this once, then npm test again:\n  sudo sh -c '${command}'`
    : `Install Chromium (or set CHROMIUM to its path) and, for the cross-check, Python 3 with SciPy and statsmodels.`
  if (missing.includes('chromium'))
    throw Object.assign(new Error(`The tests need ${missing.join(', ')}. ${how}`), { exitCode: 1 })
  console.log(`The cross-check of the statistics is left out: no ${missing.join(', ')}. ${how}`)
}

function hasPython() {
  const python = existsSync('/usr/bin/python3') ? '/usr/bin/python3' : 'python3'
  return spawnSync(python, ['-c', 'import scipy, statsmodels'], { stdio: 'ignore' }).status === 0
}

function pinnedNode() {
  const local = at('node_modules', '.bin', process.platform === 'win32' ? 'node.cmd' : 'node')
  return existsSync(local) ? local : process.execPath
}

/** Runs a command, shows that it is at work and for how long, and throws where it fails. */
function step(title, command, args, env) {
  const began = Date.now()
  const seconds = () => Math.round((Date.now() - began) / 1000)
  const live = process.stderr.isTTY
  process.stderr.write(live ? `${title} …` : `${title} …\n`)
  const timer = setInterval(
    () => {
      process.stderr.write(live ? `\r${title} … ${seconds()} s` : `${title} … ${seconds()} s\n`)
      utimes(LOCK)
    },
    live ? 1000 : 15_000,
  )
  return new Promise((resolve, reject) => {
    const child = spawn(command, args, { cwd: root, env, stdio: ['ignore', 'pipe', 'pipe'] })
    let output = ''
    const keep = (chunk) => {
      output = (output + chunk).slice(-20_000)
    }
    child.stdout.on('data', keep)
    child.stderr.on('data', keep)
    const stop = () => child.kill('SIGTERM')
    process.once('SIGINT', stop)
    process.once('SIGTERM', stop)
    child.on('error', (error) => done(1, error.message))
    child.on('close', (exit, signal) => done(signal ? 130 : exit, output))
    function done(exit, text) {
      clearInterval(timer)
      process.removeListener('SIGINT', stop)
      process.removeListener('SIGTERM', stop)
      if (exit === 0) {
        process.stderr.write(`${live ? '\r' : ''}${title}: done in ${seconds()} s.\n`)
        resolve()
      } else {
        const error = new Error(
          exit === 130 ? `${title}: stopped.` : `${title} failed (exit ${exit}):\n${text}`,
        )
        reject(Object.assign(error, { exitCode: exit }))
      }
    }
  })
}

/** One setup at a time in a checkout: a second start waits for the first. */
async function lock() {
  for (let told = false; ; ) {
    try {
      mkdirSync(LOCK)
      return () => {
        try {
          rmdirSync(LOCK)
        } catch {}
      }
    } catch (error) {
      if (error.code !== 'EEXIST') fail(`Cannot write to ${root}: ${error.message}`, 1)
    }
    try {
      if (Date.now() - statSync(LOCK).mtimeMs > LOCK_STALE_MS) rmdirSync(LOCK)
    } catch {}
    if (!told) process.stderr.write('Another setup of this checkout is running; waiting for it …\n')
    told = true
    await new Promise((r) => setTimeout(r, 250))
  }
}

function utimes(path) {
  try {
    utimesSync(path, new Date(), new Date())
  } catch {}
}

function files(folder) {
  return readdirSync(folder, { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((e) => (e.isDirectory() ? files(join(folder, e.name)) : [join(folder, e.name)]))
}

function hash(paths, salt = '') {
  const h = createHash('sha256').update(salt)
  for (const path of paths) h.update(`\0${path.slice(root.length)}\0`).update(readFileSync(path))
  return h.digest('hex')
}

function read(path) {
  try {
    return readFileSync(path, 'utf8')
  } catch {
    return null
  }
}

function fail(message, exit) {
  console.error(message)
  process.exit(exit)
}
