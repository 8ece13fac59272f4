// Danger sheets and cells of a sweep of lamps at the ends of what the schema permits: they are computed, and nothing in them is no number.
import { expect, test } from 'vitest'
import { inlineWorker, makePool } from '../../src/engine/workers/pool.ts'
import { traceDanger } from '../../src/job/danger/run.ts'
import { traceCell } from '../../src/job/sweep/cell.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { amount } from '../kit/amount.ts'
import { BOUNCES, extremeLamp, traps } from '../kit/extremeLamp.ts'
import { textOf, unsound } from '../kit/unsound.ts'

const LAMPS = amount(3, 200)
const BUNDLES = amount(1, 20)
/** Seeds from here on: other lamps than those of extreme.test.ts; the first are soon computed. */
const FIRST_SEED = 20_004
/** Of so many lamps one has a danger sheet: it takes ten times as long as a cell. */
const SHEET_EACH = amount(3, 1)
const FEW = { seed: 1, maxRays: 2048, sunRays: 512, strayRays: 1024, rough: true, tiltsDeg: amount([0], [0, 20]) }

const pool = makePool([inlineWorker()])

/** Null, or what is wrong; a run that lamps cut off which trap their light is refused, rightly. */
async function faultOf(lamp: Lamp, compute: () => Promise<unknown>): Promise<string | null> {
  try {
    return unsound(await compute())
  } catch (error) {
    return BOUNCES.test(textOf(error)) && traps(lamp) ? null : textOf(error)
  }
}

const each = LAMPS / BUNDLES
test.each(Array.from({ length: BUNDLES }, (_, i) => i))(
  `danger sheets and cells of ${each} lamps, bundle %i`,
  { timeout: 3_600_000 },
  async (bundle) => {
    const faults: string[] = []
    for (let seed = FIRST_SEED + bundle * each; seed < FIRST_SEED + (bundle + 1) * each; seed++) {
      const lamp = extremeLamp(seed)
      const danger = seed % SHEET_EACH === 0 ? await faultOf(lamp, () => traceDanger(pool, lamp, FEW)) : null
      const cell = await faultOf(lamp, () => traceCell(lamp, { seed, rays: 1024 }))
      if (danger) faults.push(`danger sheet of seed ${seed}: ${danger}`)
      if (cell) faults.push(`cell of seed ${seed}: ${cell}`)
    }
    expect(faults).toEqual([])
  },
)
