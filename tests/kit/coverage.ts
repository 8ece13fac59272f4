// How often the ± of a sheet's figures holds the truth: sheets of many seeds, as the trace itself makes them, against a far longer trace or a
// closed form.
import { inlineWorker, makePool } from '../../src/engine/workers/pool.ts'
import type { Sheet } from '../../src/job/beam/sheet.ts'
import { traceLamp } from '../../src/job/beam/trace.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { makeScheduler } from '../../src/num/scheduler.ts'
import { mean, sampleSd, standardError, T95 } from '../../src/num/stats.ts'
import type { Figure } from '../../src/run/figure.ts'

export type Figures = Map<string, Figure>

/** A sheet of so many rays, cut down to what has a ±, and why other figures are withheld. */
export interface StagedSheet {
  stage: string
  figures: Figures
  absent: Map<string, string>
}

/** Every figure of a sheet that is shown with ±: its figures, hot spots and ledger lines. */
function figuresOf(sheet: Sheet): Figures {
  const out: Figures = new Map(Object.entries(sheet.figures))
  for (const [name, { kWm2, se }] of Object.entries(sheet.hotSpots)) out.set(`hot ${name}`, { value: kWm2, se })
  // Lines that no ray has come to, or less than a thousandth of a percent, are not shown.
  for (const { line, share } of sheet.ledger)
    if (share.value !== 0 && Math.abs(share.value) + T95 * share.se >= 1e-5) out.set(`ledger ${line}`, share)
  return out
}

const stagedOf = (stage: string, sheet: Sheet): StagedSheet => ({
  stage,
  figures: figuresOf(sheet),
  absent: new Map(Object.entries(sheet.absent)),
})

export interface SheetOptions {
  seed: number
  maxRays: number
  /** End after so many sheets: the first sheet alone costs a tenth of a second. By default with the settled one. */
  sheets?: number
  /** The settled sheet alone. */
  onlyLast?: boolean
}

/** Sheets of one trace: the first sheet, the second, and the settled one of `maxRays`. No sun, no variants: each is a trace of its own. */
export async function sheetsOf(
  lamp: Lamp,
  { seed, maxRays, sheets = 3, onlyLast = false }: SheetOptions,
): Promise<StagedSheet[]> {
  const pool = makePool([inlineWorker(queueMicrotask)])
  const found: StagedSheet[] = []
  const enough = new AbortController()
  const onSheet = (sheet: Sheet) => {
    // The last round is read once more as settled.
    if (sheet.rays >= maxRays || found.length >= STAGES.length) return
    found.push(stagedOf(STAGES[found.length]!, sheet))
    if (found.length === sheets) enough.abort()
  }
  const options = { seed, maxRays, precision: 0, background: false, onlyLast }
  try {
    const context = { scheduler: makeScheduler(enough.signal), readsAll: true }
    const settled = await traceLamp(pool, lamp, options, onSheet, context)
    if (settled) found.push(stagedOf(`settled ${settled.rays}`, settled))
  } finally {
    pool.close()
  }
  return found
}

const STAGES = ['first', 'second'] as const

/** Figures of the k-th long trace, of a seed that no sheet here has. */
export async function truthTrace(lamp: Lamp, k: number, rays: number): Promise<Figures> {
  return (await sheetsOf(lamp, { seed: TRUTH_SEED + k, maxRays: rays, onlyLast: true })).at(-1)!.figures
}

/** The mean of long traces with the error of that mean; figures that every one of them has. */
export function truthOf(traces: readonly Figures[]): Figures {
  const found = new Map<string, number[]>()
  for (const figures of traces)
    for (const [name, { value }] of figures) found.set(name, [...(found.get(name) ?? []), value])
  return new Map(
    [...found]
      .filter(([, values]) => values.length === traces.length)
      .map(([name, values]) => [name, { value: mean(values), se: standardError(values) }]),
  )
}

/** The same, traced one after the other. */
export async function traceTruth(lamp: Lamp, traces: number, rays: number): Promise<Figures> {
  const found: Figures[] = []
  for (let k = 0; k < traces; k++) found.push(await truthTrace(lamp, k, rays))
  return truthOf(found)
}

const TRUTH_SEED = 1_000_000

export interface Coverage {
  stage: string
  figure: string
  truth: Figure
  meanValue: number
  /** Means over the seeds: the ± as a share of the truth, and (value − truth) / se. */
  halfWidth: number
  biasSe: number
  /** Root mean square of (value − truth) / se: 1.07 for Student's t of 15 degrees of freedom. */
  rmsSe: number
  /** Mean se over the standard deviation of the values: how much wider ± is than it must be. */
  seOverScatter: number
  inside: number
  outside: number
  /** Sheets without the figure. */
  withheld: number
}

/** One row a stage and figure with a truth. A value is inside when its ± and that of the truth hold the difference. */
export function judgeSheets(sheets: readonly StagedSheet[], truth: Figures): Coverage[] {
  const stages = [...new Set(sheets.map((l) => l.stage))]
  return stages.flatMap((stage) => {
    const of = sheets.filter((l) => l.stage === stage)
    return [...truth].map(([figure, t]) => {
      const values = of.flatMap((l) => l.figures.get(figure) ?? [])
      return { stage, figure, ...judge(values, t), withheld: of.length - values.length }
    })
  })
}

function judge(values: readonly Figure[], truth: Figure) {
  const rounding = ROUNDING * Math.abs(truth.value)
  const off = values.map(({ value }) => value - truth.value)
  const errors = values.map(({ se }) => Math.hypot(se, truth.se, rounding / T95) || Number.MIN_VALUE)
  const scores = off.map((o, i) => o / errors[i]!)
  const inside = scores.filter((s) => Math.abs(s) <= T95 * (1 + 1e-9)).length
  return {
    truth,
    meanValue: mean(values.map((v) => v.value)),
    halfWidth: (T95 * mean(values.map((v) => v.se))) / Math.abs(truth.value),
    biasSe: mean(scores),
    rmsSe: Math.sqrt(mean(scores.map((s) => s * s))),
    seOverScatter: mean(values.map((v) => v.se)) / sampleSd(values.map((v) => v.value)),
    inside,
    outside: values.length - inside,
  }
}

/** Sums in double precision in another order; a figure without ± (what the emitters give) is held to it. */
const ROUNDING = 1e-9
