/// <reference lib="webworker" />
// Gives recorded sheets back, one an order, as the desk's worker would: copied from its thread to the page's.
import { expose } from 'comlink'
import type { Sheet } from '../../../src/job/beam/sheet.ts'

let sheets: Sheet[] = []
let turn = 0

const replay = {
  take(all: Sheet[]): void {
    sheets = all
  },
  /** Order n gets its sheet once that time has gone by, unless another order has come meanwhile. */
  async sheet(n: number, ms: number, onSheet: (sheet: Sheet) => void): Promise<void> {
    const mine = ++turn
    await new Promise((next) => setTimeout(next, ms))
    // Forth and back along the lenses, as a hand goes; never the same twice.
    const at = n % (2 * sheets.length - 2)
    const sheet = sheets[at < sheets.length ? at : 2 * sheets.length - 2 - at]
    if (mine === turn && sheet) onSheet({ ...sheet, rays: sheet.rays + n })
  },
}
export type ReplayWorker = typeof replay

expose(replay)
