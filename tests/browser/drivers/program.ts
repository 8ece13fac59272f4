// A browser or its driver as a child process, until it listens.
import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync } from 'node:fs'

export interface Program {
  /** What `ready` gave. */
  at: string
  stop(): Promise<void>
}

export function installed(paths: readonly string[], debian: string): string {
  const found = paths.find((path) => path !== '' && existsSync(path))
  if (!found) throw new Error(`None of ${paths.join(' ')} is here: install Debian's ${debian}.`)
  return found
}

/** `ready`: what it has said so far; an answer ends the wait. Rejects when the program ends before, or after a minute. */
export async function start(
  path: string,
  args: readonly string[],
  ready: (heard: string) => string | null | undefined | Promise<string | null>,
  env: Record<string, string> = {},
): Promise<Program> {
  const child = spawn(path, args, { env: { ...process.env, ...env }, stdio: ['ignore', 'pipe', 'pipe'] })
  let heard = ''
  let fault: Error | null = null
  const hear = (bytes: Buffer) => {
    heard += String(bytes)
  }
  child.stdout.on('data', hear)
  child.stderr.on('data', hear)
  child.on('error', (error) => {
    fault = error
  })
  for (let tries = 0; tries < 600 && !fault && child.exitCode === null; tries++) {
    const at = await ready(heard)
    if (at) return { at, stop: () => stop(child) }
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  child.kill('SIGKILL')
  throw fault ?? new Error(`${path} did not come up: ${heard.slice(-2000)}`)
}

async function stop(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return
  const ended = new Promise((resolve) => child.once('exit', resolve))
  child.kill('SIGTERM')
  const late = setTimeout(() => child.kill('SIGKILL'), 3000)
  await ended
  clearTimeout(late)
}
