// Runs heat and power of the open lamp in a worker; every edit that affects them restarts the run.

import type { Sheet } from '../../job/beam/sheet.ts'
import type { PowerClient } from '../../job/power/client.ts'
import type { Trouble } from '../../job/service/restarting.ts'
import type { BoardType, Lamp } from '../../lamp/schema.ts'
import { withoutHoles } from '../../lamp/withoutMaking.ts'
import type { Design } from '../store/design.ts'
import { clearMissing, type MissingStore, setMissing } from '../store/missing.ts'
import type { PowerStore } from '../store/power.ts'
import type { Result } from '../store/result.ts'

/** The parts that the run depends on. Ticks of the power-up list are read from the lamp itself. */
const PARTS = [
  'name',
  'boards',
  'emitterTypes',
  'opticTypes',
  'optic',
  'face',
  'cooling',
  'power',
] as const satisfies readonly (keyof Lamp)[]

export const sameRun = (a: Lamp, b: Lamp): boolean =>
  PARTS.every((key) => a[key] === b[key]) &&
  a.reading.ambientC === b.reading.ambientC &&
  sameBoardTypes(a.boardTypes, b.boardTypes)

/** An edit keeps the other entries of a type as they are: the same objects. Screw holes enter no run. */
function sameBoardTypes(a: Lamp['boardTypes'], b: Lamp['boardTypes']): boolean {
  if (a === b) return true
  return a.length === b.length && a.every((type, i) => type === b[i] || isSameButHoles(type, b[i]))
}

function isSameButHoles(a: BoardType, b: BoardType | undefined): boolean {
  if (!b) return false
  const [x, y] = [withoutHoles(a), withoutHoles(b)]
  const keys = Object.keys(x) as (keyof BoardType)[]
  return keys.length === Object.keys(y).length && keys.every((key) => x[key] === y[key])
}

/** Wait after the last change, so that a drag does not start one run after another. */
const DEBOUNCE_MS = 120

/** The ledger of the current lamp's settled sheet: how much light stays in the lamp. */
const ledgerOf = (result: Result): Sheet['ledger'] | null => {
  const { sheet, stale } = result.getState()
  return sheet?.state === 'settled' && !stale ? sheet.ledger : null
}

/** The first run uses the last known ledger; a second follows when the beam sheet has settled. */
export function followPower(
  design: Design,
  power: PowerStore,
  result: Result,
  missing: MissingStore,
  open: (onTrouble: (trouble: Trouble) => void) => PowerClient,
  debounceMs = DEBOUNCE_MS,
): () => void {
  const client = open(fail)
  let requested: Lamp | null = null
  let traced = false
  let lastLedger: Sheet['ledger'] | null = null
  let timer: ReturnType<typeof setTimeout> | undefined

  /** The last report and findings of this lamp stay: `missing` marks them. */
  function fail(trouble: Trouble) {
    power.setState({ why: trouble.why, stale: true })
    setMissing(missing, 'heat', trouble, () => {
      client.again()
      begin()
    })
  }

  function begin() {
    const lamp = design.lamp()
    // A newly opened lamp has no history: results of the lamp before must not be used for it.
    const isAnother = lamp !== requested && !design.canUndo() && !design.canRedo()
    requested = lamp
    const settled = ledgerOf(result)
    traced = settled !== null
    lastLedger = settled ?? (isAnother ? null : lastLedger)
    power.setState({ stale: true, why: '' })
    if (isAnother) {
      power.setState({ report: null, findings: [], mode: null, atS: null, announcement: '' })
      clearMissing(missing, 'heat')
    }
    client.run(
      lamp,
      lastLedger,
      (report, findings) => {
        power.setState({ report, findings, stale: !sameRun(design.lamp(), lamp), why: '' })
        clearMissing(missing, 'heat')
      },
      (why) => fail({ why, restarts: false }),
    )
  }

  const schedule = () => {
    clearTimeout(timer)
    timer = setTimeout(begin, debounceMs)
  }

  begin()
  const offResult = result.subscribe((now, before) => {
    // A change of lens changes how much light stays in the lamp, but nothing else that the run depends on.
    if (now.stale && !before.stale) traced = false
    if (!traced && ledgerOf(result)) {
      traced = true
      schedule()
    }
  })
  const off = design.store.subscribe(({ lamp }) => {
    if (requested && sameRun(lamp, requested)) return
    power.setState({ stale: true })
    schedule()
  })
  return () => {
    off()
    offResult()
    clearTimeout(timer)
    client.dispose()
  }
}
