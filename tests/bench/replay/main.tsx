// The page as it is, over a tracing service that has its sheets ready: what the page's own thread does when whole sheets come as fast as a good machine
// gives them, measured on any machine. Sheets of the dragged lens are traced once, before anything is measured.
import { createRoot } from 'react-dom/client'
import '../../../src/app/theme.css'
import { listenForKeys } from '../../../src/app/actions/keys.ts'
import { ACTIONS } from '../../../src/app/shell/actions.ts'
import { page } from '../../../src/app/shell/page.ts'
import { Shell } from '../../../src/app/shell/Shell.tsx'
import { type TraceClient, tracing } from '../../../src/app/shell/tracing.ts'
import { design } from '../../../src/app/store/stores.ts'
import { makeClient } from '../../../src/engine/workers/calls.ts'
import { browserPort } from '../../../src/engine/workers/port.ts'
import type { Sheet } from '../../../src/job/beam/sheet.ts'
import { openTracingClient } from '../../../src/job/service/client.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import type { ReplayCalls } from './worker.ts'

/** Lenses of the recording, a step apart. */
const LENSES = 16
const STEP_MM = 4

function withLens(step: number): Lamp {
  const lamp = gannetHead()
  return lamp.lens ? { ...lamp, lens: { ...lamp.lens, zMm: lamp.lens.zMm + STEP_MM * step } } : lamp
}

/** The first whole sheet of each lens. */
async function record(): Promise<Sheet[]> {
  const client = openTracingClient({ choice: 'cpu' })
  const sheets: Sheet[] = []
  const options = { seed: 1, maxRays: 1 << 18, precision: 1e-4, background: false }
  for (let i = 0; i < LENSES; i++) {
    sheets.push(
      await new Promise<Sheet>((resolve, reject) => {
        let last: Sheet | null = null
        client.trace(
          withLens(i),
          options,
          (sheet) => {
            last = sheet
          },
          (why) => reject(new Error(why)),
          () => last && resolve(last),
        )
      }),
    )
  }
  client.dispose()
  return sheets
}

/** Every lamp's sheet comes from the worker after the time that a good machine takes. */
function replay(sheets: Sheet[]): TraceClient {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  const client = makeClient<ReplayCalls>(browserPort(worker, 'The replay'), 'The replay')
  void client.call('record', sheets)
  const ms = Number(new URLSearchParams(location.search).get('ms') ?? 16)
  let edits = 0
  return {
    // It never ends: a trace that goes on is what the next edit finds.
    trace(_lamp, _options, onSheet) {
      void client.call('sheet', { n: edits++, ms }).then((sheet) => sheet && onSheet(sheet))
    },
    pause() {},
    resume() {},
    again() {},
    dispose() {},
  }
}

const sheets = await record()
design.open(gannetHead())
listenForKeys(ACTIONS, page)
createRoot(document.getElementById('root')!).render(<Shell />)
tracing.start(() => replay(sheets))
