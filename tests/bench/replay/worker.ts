/// <reference lib="webworker" />
// Gives recorded sheets back, one a call, as the tracing service's worker would: copied from its thread to the page's.
import { serveCalls } from '../../../src/engine/workers/calls.ts'
import { selfSide } from '../../../src/engine/workers/selfBrowser.ts'
import type { Sheet } from '../../../src/job/beam/sheet.ts'

export type ReplayCalls = {
  record: { args: Sheet[]; event: never; result: unknown }
  /** Sheet n after that time, unless another call has come meanwhile. */
  sheet: { args: { n: number; ms: number }; event: never; result: Sheet | null }
}

let sheets: Sheet[] = []
let newest = 0

serveCalls<ReplayCalls>(selfSide(), {
  record(all) {
    sheets = all
  },
  async sheet({ n, ms }) {
    const mine = ++newest
    await new Promise((next) => setTimeout(next, ms))
    // Forth and back along the lenses, as a drag goes; never the same twice.
    const at = n % (2 * sheets.length - 2)
    const sheet = sheets[at < sheets.length ? at : 2 * sheets.length - 2 - at]
    return mine === newest && sheet ? { ...sheet, rays: sheet.rays + n } : null
  },
})
