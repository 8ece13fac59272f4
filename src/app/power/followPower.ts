// From the lamp to its heat and power: every edit that bears on them starts the run anew, in a worker.

import type { Sheet } from '../../job/beam/sheet.ts'
import type { PowerClient } from '../../job/power/client.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Design } from '../store/design.ts'
import type { PowerStore } from '../store/power.ts'
import type { Result } from '../store/result.ts'

/** What the run hangs on. Ticks of the power-up list are read off the lamp itself. */
const PARTS = [
  'name',
  'boards',
  'boardTypes',
  'emitterTypes',
  'opticTypes',
  'optic',
  'face',
  'cooling',
  'power',
] as const satisfies readonly (keyof Lamp)[]

export const runsAlike = (a: Lamp, b: Lamp): boolean =>
  PARTS.every((key) => a[key] === b[key]) && a.reading.ambientC === b.reading.ambientC

/** After the last change, so that a handle being dragged does not start one run after another. */
const PATIENCE_MS = 120

/** A settled sheet of the lamp as it is: how much light stays in it. */
const ledgerOf = (result: Result): Sheet['ledger'] | null => {
  const { sheet, stale } = result.getState()
  return sheet?.state === 'settled' && !stale ? sheet.ledger : null
}

/** The run begins with the light that was last known to stay in the lamp, and is run once more when the beam sheet has settled. */
export function followPower(
  design: Design,
  power: PowerStore,
  result: Result,
  open: () => PowerClient,
  patienceMs = PATIENCE_MS,
): () => void {
  const desk = open()
  let asked: Lamp | null = null
  let traced = false
  let known: Sheet['ledger'] | null = null
  let timer: ReturnType<typeof setTimeout> | undefined

  function begin() {
    const lamp = design.lamp()
    asked = lamp
    // Another lamp has no history yet; nothing of the one before may be read as its own.
    const isAnother = !design.canUndo() && !design.canRedo()
    const settled = ledgerOf(result)
    traced = settled !== null
    known = settled ?? (isAnother ? null : known)
    power.setState({ stale: true, why: '' })
    if (isAnother) power.setState({ report: null, findings: [], mode: null, atS: null, said: '' })
    desk.run(
      lamp,
      known,
      (report, findings) => power.setState({ report, findings, stale: !runsAlike(design.lamp(), lamp), why: '' }),
      (why) => power.setState({ why, findings: [], stale: true }),
    )
  }

  const soon = () => {
    clearTimeout(timer)
    timer = setTimeout(begin, patienceMs)
  }

  begin()
  const offResult = result.subscribe((now, before) => {
    // One lens for another changes what stays in the lamp, but nothing else that the run hangs on.
    if (now.stale && !before.stale) traced = false
    if (!traced && ledgerOf(result)) {
      traced = true
      soon()
    }
  })
  const off = design.store.subscribe(({ lamp }) => {
    if (asked && runsAlike(lamp, asked)) return
    power.setState({ stale: true })
    soon()
  })
  return () => {
    off()
    offResult()
    clearTimeout(timer)
    desk.dispose()
  }
}
