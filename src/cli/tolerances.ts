// lampwright tolerances: the lamp built many times within its tolerances, as text or JSON.
import { availableParallelism } from 'node:os'
import { variedOf } from '../job/tolerances/design.ts'
import { spreadOf } from '../job/tolerances/result.ts'
import {
  type BuiltReading,
  fewestLamps,
  lampCount,
  MOST_LAMPS,
  SPREAD_NAMES,
  type ToleranceSettings,
  toleranceFault,
  USUAL_LAMPS,
} from '../job/tolerances/run.ts'
import { type Confirmed, confirmedBy, independentIndices, namedTighter, withHalved } from '../job/tolerances/tighter.ts'
import type { Lamp } from '../lamp/schema.ts'
import { unitFor } from '../report/sweepTable.ts'
import { whole } from './format.ts'
import { EXIT, type Io, type Tools, UserError } from './io.ts'
import { openLamp } from './lampFile.ts'
import { onlyPositional, type Parsed, wholeNumber } from './options.ts'
import { computePart, PART_OPTIONS, partAsked } from './partFile.ts'
import { progressOn } from './progress.ts'
import { SHOWN, toleranceList, tolerancesText } from './tolerancesText.ts'
import { VERSION } from './version.ts'

export const TOLERANCES_OPTIONS = {
  list: { type: 'boolean' },
  lamps: { type: 'string', value: 'N' },
  rays: { type: 'string', value: 'N' },
  seed: { type: 'string', value: 'S' },
  threads: { type: 'string', value: 'T' },
  confirm: { type: 'boolean' },
  ...PART_OPTIONS,
  force: { type: 'boolean' },
  json: { type: 'boolean' },
  help: { type: 'boolean' },
} as const

export async function tolerancesCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const { io } = tools
  const lamp = await openLamp(onlyPositional(parsed, 'a lamp file or the name of an example', 'tolerances'))
  if (parsed.flags.has('list')) {
    io.out(toleranceList(lamp))
    return EXIT.fine
  }
  const fault = toleranceFault(lamp)
  if (fault) throw new UserError(fault)
  const settings: ToleranceSettings = {
    lamps: wholeNumber(parsed, 'lamps', { from: fewestLamps(lamp), to: MOST_LAMPS, otherwise: USUAL_LAMPS }),
    rays: wholeNumber(parsed, 'rays', { from: 32, to: 1e7, otherwise: 65_536 }),
    seed: wholeNumber(parsed, 'seed', { from: 0, to: 2 ** 32 - 1, otherwise: 1 }),
  }
  const threads = wholeNumber(parsed, 'threads', { from: 0, to: 256, otherwise: availableParallelism() })
  const json = parsed.flags.has('json')
  const file = partAsked(parsed)
  const confirm = parsed.flags.has('confirm')
  if (file?.isPart && confirm) throw new UserError('--confirm needs the whole run, not a part of it.')
  if (file?.isPart && json) throw new UserError('--part writes a file for merge, which then prints text or --json.')
  const head = { kind: 'tolerances', settings: { ...settings }, all: lampCount(lamp, settings), lamp } as const
  const made = await computePart(head, file, parsed.flags.has('force'), io, (indices) =>
    built(lamp, settings, threads, indices, tools),
  )
  if (!made || file?.isPart) return EXIT.fine
  const confirmed: Confirmed[] = []
  if (confirm)
    for (const name of namedTighter(spreadOf(lamp, made.cells), SHOWN)) {
      const halved = withHalved(lamp, name)
      const readings = await built(halved, settings, threads, independentIndices(halved, settings), tools)
      confirmed.push(confirmedBy(halved, name, readings))
    }
  return printTolerances(lamp, settings, made.cells, json, io, confirmed)
}

async function built(
  lamp: Lamp,
  settings: ToleranceSettings,
  threads: number,
  indices: readonly number[],
  { io, build }: Tools,
): Promise<BuiltReading[]> {
  const progress = progressOn(io, (done, all) => `${whole(done)} of ${whole(all)} lamps`)
  let done = 0
  try {
    return await build(lamp, settings, threads, indices, () => progress.show({ rays: ++done, maxRays: indices.length }))
  } finally {
    progress.end()
  }
}

export function printTolerances(
  lamp: Lamp,
  settings: ToleranceSettings,
  readings: readonly BuiltReading[],
  json: boolean,
  io: Io,
  confirmed: readonly Confirmed[] = [],
): number {
  const spread = spreadOf(lamp, readings)
  if (json) {
    const units = Object.fromEntries(SPREAD_NAMES.map((name) => [name, name === 'junctionC' ? '°C' : unitFor(name)]))
    const tolerances = Object.fromEntries(variedOf(lamp).map(({ name, tolerance }) => [name, tolerance]))
    const { seed, rays } = settings
    io.out(
      `${JSON.stringify({ version: VERSION, lamp: lamp.name, seed, rays, tolerances, units, ...spread, confirmed })}\n`,
    )
  } else io.out(tolerancesText(lamp, settings, spread, confirmed))
  return EXIT.fine
}
