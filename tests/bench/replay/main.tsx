// The page as it is, over a desk that has its sheets ready: what the page's own thread does when whole sheets come as fast as a good machine
// gives them, measured on any machine. Sheets of the dragged lens are traced once, before anything is measured.
import { proxy, wrap } from 'comlink'
import { createRoot } from 'react-dom/client'
import '../../../src/app/theme.css'
import { listenForKeys } from '../../../src/app/actions/keys.ts'
import { ACTIONS } from '../../../src/app/shell/actions.ts'
import { page } from '../../../src/app/shell/page.ts'
import { Shell } from '../../../src/app/shell/Shell.tsx'
import { type TraceClient, tracing } from '../../../src/app/shell/tracing.ts'
import { design } from '../../../src/app/store/stores.ts'
import type { Sheet } from '../../../src/job/beam/sheet.ts'
import { openDesk } from '../../../src/job/service/client.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import type { ReplayWorker } from './worker.ts'

/** Lenses of the recording, a step apart. */
const LENSES = 16
const STEP_MM = 4

function withLens(step: number): Lamp {
  const lamp = gannetHead()
  return lamp.lens ? { ...lamp, lens: { ...lamp.lens, zMm: lamp.lens.zMm + STEP_MM * step } } : lamp
}

/** The first whole sheet of each lens. */
async function record(): Promise<Sheet[]> {
  const desk = openDesk({ choice: 'cpu' })
  const sheets: Sheet[] = []
  const options = { seed: 1, maxRays: 1 << 18, precision: 1e-4, background: false }
  for (let i = 0; i < LENSES; i++) {
    sheets.push(
      await new Promise<Sheet>((resolve, reject) => {
        let last: Sheet | null = null
        desk.trace(
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
  desk.dispose()
  return sheets
}

/** Every lamp's sheet comes from the worker after the time that a good machine's desk takes. */
function replay(sheets: Sheet[]): TraceClient {
  const worker = wrap<ReplayWorker>(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }))
  void worker.take(sheets)
  const ms = Number(new URLSearchParams(location.search).get('ms') ?? 16)
  let asked = 0
  return {
    // It never ends: a trace that goes on is what the next edit finds.
    trace(_lamp, _options, onSheet) {
      void worker.sheet(asked++, ms, proxy(onSheet))
    },
    pause() {},
    resume() {},
    dispose() {},
  }
}

const sheets = await record()
design.open(gannetHead())
listenForKeys(ACTIONS, page)
createRoot(document.getElementById('root')!).render(<Shell />)
tracing.start(() => replay(sheets))
