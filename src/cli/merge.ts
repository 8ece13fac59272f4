// lampwright merge: the parts of a run joined, and printed as the run in one go would have been.
import { availableParallelism } from 'node:os'
import { movableOf } from '../job/choose/moves.ts'
import { type OptimizePlan, planFault } from '../job/choose/plan.ts'
import type { StartCell } from '../job/choose/starts.ts'
import { joinParts, type PartFile, writePart } from '../job/part/part.ts'
import { axesFault, type SweepAxes } from '../job/sweep/plan.ts'
import type { SweepCell } from '../job/sweep/run.ts'
import type { BuiltReading, ToleranceSettings } from '../job/tolerances/run.ts'
import { stripControls, type Tools, UserError } from './io.ts'
import { expectOneBest, optimizeOutput, printOptimize, searched } from './optimize.ts'
import { type Parsed, UNITS, wholeNumber } from './options.ts'
import { openPart } from './partFile.ts'
import { outputOf, printSweep } from './sweep.ts'
import { printTolerances } from './tolerances.ts'
import { expectWritable, writeFile } from './writeFile.ts'

export const MERGE_OPTIONS = {
  out: { type: 'string', value: 'FILE' },
  csv: { type: 'string', value: 'FILE' },
  force: { type: 'boolean' },
  json: { type: 'boolean' },
  threads: { type: 'string', value: 'T' },
  units: UNITS,
  help: { type: 'boolean' },
} as const

export async function mergeCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const { io } = tools
  if (parsed.positionals.length === 0) throw new UserError('merge needs the files of all parts.')
  const output = outputOf(parsed)
  const out = parsed.values.get('out')
  if (out !== undefined) expectWritable(out, output.over)
  const joined = joinParts(parsed.positionals.map((name) => ({ name, part: openPart(name) })))
  if (!joined.ok) throw new UserError(stripControls(joined.why))
  const { whole } = joined
  if (whole.kind === 'optimize') return mergeSearches(whole, parsed, tools)
  if (out !== undefined) writeFile(out, writePart(whole), output.over)
  if (whole.kind === 'sweep') return printSweep(sweptOf(whole), output, io)
  expectNoCsv(output.csv, whole)
  return printTolerances(
    whole.lamp,
    toleranceSettingsOf(whole),
    whole.cells as readonly unknown[] as BuiltReading[],
    output.json,
    io,
  )
}

function expectNoCsv(csv: string | undefined, { kind }: PartFile): void {
  if (csv !== undefined) throw new UserError(`--csv is of a sweep; these parts are of ${kind}.`)
}

/** Runs the search once more, with all that the parts have evaluated: only the check of the best is traced. */
async function mergeSearches(joined: PartFile, parsed: Parsed, tools: Tools): Promise<number> {
  const { lamp, settings, cells, all } = joined
  expectNoCsv(parsed.values.get('csv'), joined)
  const plan = settings as Partial<OptimizePlan>
  const isPlan = Array.isArray(plan.moves) && Array.isArray(plan.wants) && Array.isArray(plan.keeps)
  const numbers = [plan.seed, plan.rays, plan.evaluations]
  if (!isPlan || numbers.some((n) => typeof n !== 'number') || (plan.starts ?? 1) !== all)
    throw new UserError('The settings of these parts are no settings of a search.')
  const whole = plan as OptimizePlan
  const fault = planFault(lamp, whole, movableOf(lamp))
  if (fault) throw new UserError(`The settings of these parts don’t fit their lamp: ${stripControls(fault)}`)
  const output = optimizeOutput(parsed)
  expectOneBest(whole, output)
  const threads = wholeNumber(parsed, 'threads', { from: 0, to: 256, otherwise: availableParallelism() })
  const outcomes = new Map((cells as readonly unknown[] as StartCell[]).flatMap((cell) => cell.outcomes))
  const result = await searched(lamp, whole, { threads, outcomes }, tools)
  return printOptimize({ lamp, plan: whole, result }, output, tools.io)
}

/** Files are written by this program, but may have been edited since. */
function sweptOf({ lamp, settings, cells }: PartFile) {
  const { axes, rays, seed } = settings as { axes?: SweepAxes; rays?: number; seed?: number }
  if (!Array.isArray(axes) || typeof rays !== 'number' || typeof seed !== 'number')
    throw new UserError('The settings of these parts are no settings of a sweep.')
  const fault = axesFault(lamp, axes as SweepAxes)
  if (fault) throw new UserError(`The settings of these parts don’t fit their lamp: ${stripControls(fault)}`)
  return { lamp, axes: axes as SweepAxes, cells: cells as readonly unknown[] as SweepCell[], settings: { rays, seed } }
}

function toleranceSettingsOf({ settings }: PartFile): ToleranceSettings {
  const { lamps, rays, seed } = settings as Partial<ToleranceSettings>
  if (typeof lamps !== 'number' || typeof rays !== 'number' || typeof seed !== 'number')
    throw new UserError('The settings of these parts are no settings of tolerances.')
  return { lamps, rays, seed }
}
