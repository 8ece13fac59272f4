// The command line with its world replaced: what it prints is kept, and no ray is traced.
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import type { Finding } from '../../src/checks/finding.ts'
import { dispatch } from '../../src/cli/dispatch.ts'
import type {
  Builder,
  Comparer,
  DangerReader,
  ExitTracer,
  Optimizer,
  Sweeper,
  Tracer,
  WishSearcher,
} from '../../src/cli/io.ts'
import type { Sheet } from '../../src/job/beam/sheet.ts'
import type { Evaluator } from '../../src/job/choose/evaluating.ts'
import { optimize } from '../../src/job/choose/run.ts'
import { searchStarts } from '../../src/job/choose/starts.ts'
import { fitInNode } from '../../src/job/fit/node.ts'
import { predictLux } from '../../src/job/fit/predict.ts'
import { cellCount, lampAt, valuesAt } from '../../src/job/sweep/plan.ts'
import type { SweepCell } from '../../src/job/sweep/run.ts'
import { makeDeviations, variedOf } from '../../src/job/tolerances/design.ts'
import type { BuiltReading } from '../../src/job/tolerances/run.ts'
import { forbiddenBy } from '../../src/job/wish/feasible.ts'
import { KINDS } from '../../src/job/wish/kinds.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import type { Run } from '../../src/run/types.ts'
import { fakeColumn } from '../kit/fakeColumn.ts'
import { fakeDanger } from '../kit/fakeDanger.ts'
import { fakeSheet } from '../kit/fakeSheet.ts'
import { filledRun, smallShape } from '../kit/handRun.ts'

export interface Ran {
  status: number
  out: string
  err: string
  /** What the tracer was asked for; null when it was not called. */
  asked: { lamp: Lamp; options: Parameters<Tracer>[1] } | null
  /** What exit rays were asked for, when they were. */
  exits?: { lamp: Lamp; options: Parameters<ExitTracer>[1] }
  /** What built lamps were asked for, when they were. */
  built?: { lamp: Lamp; settings: Parameters<Builder>[1]; threads: number; indices: readonly number[] }
  /** What the sweeper was asked for, when it was. */
  /** What was to be optimized, when it was. */
  evaluated?: number
  optimized?: { lamp: Lamp; plan: Parameters<Optimizer>[1]; threads: number }
  /** Which of its searches were asked for. */
  searched?: { plan: Parameters<Optimizer>[1]; starts: readonly number[] }
  /** What was to be compared, when something was. */
  compared?: { lamps: readonly Lamp[]; options: Parameters<Comparer>[1] }
  swept?: { lamp: Lamp; axes: Parameters<Sweeper>[1]; options: Parameters<Sweeper>[2] }
}

export async function lampwright(
  args: string[],
  {
    columns = null,
    change = (s) => s,
    dangers = (f) => f,
  }: {
    columns?: number | null
    change?: (sheet: Sheet) => Sheet
    /** What the danger sheet finds. */
    dangers?: (findings: Finding[]) => Finding[]
  } = {},
): Promise<Ran> {
  const ran: Ran = { status: -1, out: '', err: '', asked: null }
  const trace: Tracer = async (lamp, options, onProgress) => {
    ran.asked = { lamp, options }
    onProgress?.({ rays: options.maxRays / 2, maxRays: options.maxRays })
    return change({ ...fakeSheet(lamp), seed: options.seed, rays: options.maxRays, threads: options.threads })
  }
  const sweep: Sweeper = async (lamp, axes, options, onCell, indices) => {
    ran.swept = { lamp, axes, options }
    const wanted = indices ?? Array.from({ length: cellCount(axes) }, (_, i) => i)
    const cells = wanted.map((i) => fakeCell(lamp, axes, i, options.rays))
    for (const cell of cells.toReversed()) onCell?.(cell)
    return cells
  }
  const build: Builder = async (lamp, settings, threads, indices, onReading) => {
    ran.built = { lamp, settings, threads, indices }
    const readings = indices.map((index) => fakeBuilt(lamp, settings.seed, index))
    for (const reading of readings) onReading?.(reading)
    return readings
  }
  const compare: Comparer = async (lamps, options, listener) => {
    ran.compared = { lamps, options }
    const columns = lamps.map((lamp) => fakeColumn(lamp))
    for (const [i, column] of columns.entries()) listener?.onPart?.(i, column)
    return columns
  }
  const danger: DangerReader = async (lamp, options, onStage) => {
    onStage?.('sun', 0.5)
    const d = fakeDanger(lamp)
    return { ...d, findings: dangers(d.findings), seed: options.seed, rays: options.maxRays }
  }
  const io = {
    out(text: string) {
      ran.out += text
    },
    err(text: string) {
      ran.err += text
    },
    errColumns: columns,
  }
  const exits: ExitTracer = (lamp, options, use) => {
    ran.exits = { lamp, options }
    return use({ rays: options.rays, emittedLm: 3000, emittedW: 10, blockCount: 2, blocks: fakeExits() })
  }
  const search: Optimizer = (lamp, plan, { threads, ...options }) => {
    ran.optimized = { lamp, plan, threads }
    return optimize([byFormula(ran)], lamp, plan, options)
  }
  const wish: WishSearcher = async (wanted) => ({
    forbidden: forbiddenBy(wanted),
    outcomes: KINDS.map(({ id, name }) => ({ ok: false, declined: { kind: id, name, because: 'light', most: 5 } })),
  })
  ran.status = await dispatch(args, {
    io,
    trace,
    sweep,
    build,
    compare,
    wish,
    danger,
    exits,
    optimize: search,
    searchStarts: (lamp, plan, starts, options) => {
      ran.searched = { plan, starts }
      const evaluators = Array.from({ length: options.threads || 1 }, () => byFormula(ran))
      return searchStarts(evaluators, lamp, plan, starts, options)
    },
    fitReadings: fitInNode,
    predict: async (order) => predictLux(order),
  })
  return ran
}

/** Figures by formula of the first number that moves: brightest at 1000, with noise that the seed alone decides; longer with it. */
const byFormula = (ran: Ran): Evaluator => ({
  async evaluate({ values: [x], seed, figures }) {
    ran.evaluated = (ran.evaluated ?? 0) + 1
    if (Number(x) > 1060) return { ok: false, why: `The lens reaches ${x} mm into the wall.` }
    const all = {
      axialIntensityCd: { value: 5e6 - 100 * (Number(x) - 1000) ** 2 + 1000 * (seed % 7), se: 500 },
      lengthMm: { value: Number(x), se: 0 },
      junctionC: { value: 90, se: 0 },
      severeFindings: { value: 1, se: 0 },
    }
    const wanted = Object.entries(all).filter(([name]) => (figures as string[]).includes(name))
    const findings = [{ rule: 'front-hot', severity: 'severe', title: 'It burns.' } as const]
    return { ok: true, evaluation: { figures: Object.fromEntries(wanted), absent: {}, findings } }
  },
  again() {},
  close() {},
})

/** Two rays along the axis, then one beside it. */
async function* fakeExits(): AsyncGenerator<Float32Array, Run> {
  const ray = (x: number, nm: number) => [x, 0, 100, 0, 0, 1, 0.5, 150, nm]
  yield Float32Array.from([...ray(0, 500), ...ray(1, 600)])
  yield Float32Array.from([2, 0, 100, 0.6, 0, 0.8, 0.25, 75, 550])
  return filledRun(smallShape(), () => {})
}

/** Figures by formula: the axis brighter with every step, the flux the same. */
function fakeCell(lamp: Lamp, axes: Parameters<Sweeper>[1], index: number, rays: number): SweepCell {
  const values = valuesAt(axes, index)
  const made = lampAt(lamp, axes, values)
  if (!made.ok) return { index, values, reading: null, why: made.why }
  const figures = {
    axialIntensityCd: { value: 1e6 + 1000 * index, se: 100 },
    fluxOutLm: { value: 50_000, se: 20 },
    'hot.front': { value: 4, se: 0.1 },
  }
  const absent = { beamAngleDeg: 'Too few rays.' }
  const findings = [{ rule: 'front-hot', severity: 'severe', title: 'It burns, "quickly".' } as const]
  return { index, values, reading: { rays, figures, absent, findings }, why: null }
}

/** A lamp whose candela follow its lens and its flux bin by formula; every third is hot. */
function fakeBuilt(lamp: Lamp, seed: number, index: number): BuiltReading {
  const d = makeDeviations(variedOf(lamp), seed)(index)
  const cd = 5e6 * (1 + (d.lotFluxShare?.[0] ?? 0)) * (1 + 0.01 * (d.lensDistanceMm?.[0] ?? 0))
  const severe = index % 3 === 0 ? [{ rule: 'front-hot', title: 'It burns.' }] : []
  const figures = {
    axialIntensityCd: [cd, 5e4, 1.001 * cd, 5e4],
    'hot.front': [cd / 1e6, 0.1, cd / 1e6, 0.1],
  } satisfies BuiltReading['figures']
  return { index, figures, severe, why: null }
}

/** An empty folder that goes when the test ends. */
export function scratch(): string {
  const folder = mkdtempSync(join(tmpdir(), 'lampwright-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}
