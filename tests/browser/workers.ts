// The page's workers in the hands of a test: ended, or kept from being started.
import type { Page } from 'playwright-core'
import { lampName } from './hands.ts'

interface Workers {
  made: { url: string; worker: Worker }[]
  /** Workers of these modules can't be started. */
  refused: string[]
  /** The page's pings, ms apart. */
  pingMs: number
}
declare global {
  interface Window {
    workers: Workers
  }
}

/** The page's workers, in the hands of the test. `atOnce`: waits before a restart take no time. */
export function takeWorkers(atOnce: boolean) {
  const workers: Workers = { made: [], refused: [], pingMs: 2_000 }
  window.workers = workers
  window.Worker = class extends Worker {
    constructor(url: string | URL, options?: WorkerOptions) {
      if (workers.refused.includes(String(url))) throw new Error('no memory')
      super(url, options)
      workers.made.push({ url: String(url), worker: this })
    }
  }
  if (!atOnce) return
  const { setTimeout: later, setInterval: every } = window
  window.setTimeout = ((run: () => void, ms?: number) =>
    later(run, ms === 1_000 || ms === 5_000 || ms === 20_000 ? 20 : ms)) as typeof setTimeout
  window.setInterval = ((run: () => void, ms?: number) =>
    every(run, ms === 2_000 ? workers.pingMs : ms)) as typeof setInterval
}

/** Modules of the workers made so far: the tracer, heat and power, then those that were asked for. */
export const urls = (page: Page) => page.evaluate(() => window.workers.made.map(({ url }) => url))
/** From now on workers of these modules can't be started. */
export const refuse = (page: Page, refused: string[]) =>
  page.evaluate((list) => {
    window.workers.refused = list
  }, refused)
/** Ends the newest worker of a module: with the error that a browser reports, or in silence. */
export const end = (page: Page, url: string, error: string | null) =>
  page.evaluate(
    ([of, message]) => {
      const { worker } = window.workers.made.filter((one) => one.url === of).at(-1)!
      worker.terminate()
      if (message !== null) worker.dispatchEvent(new ErrorEvent('error', { message: message! }))
    },
    [url, error] as const,
  )

/** Runs heat and power anew, and nothing else. */
export async function rename(page: Page, name: string) {
  await lampName(page).fill(name)
  await lampName(page).press('Enter')
}
