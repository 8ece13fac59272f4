// lampwright trace: the beam sheet of a lamp, as text or JSON.
import { availableParallelism } from 'node:os'
import { ENGINE_CHOICES, type EngineChoice, NoDevice } from '../job/beam/sheet.ts'
import type { Lamp } from '../lamp/schema.ts'
import { EXIT, type Tools, UserError } from './io.ts'
import { openLamp } from './lampFile.ts'
import { onlyPositional, type Parsed, UNITS, unitsOf, wholeNumber } from './options.ts'
import { progressOn } from './progress.ts'
import { sheetJson } from './sheetJson.ts'
import { sheetText } from './sheetText.ts'
import { VERSION } from './version.ts'

export const TRACE_OPTIONS = {
  rays: { type: 'string', value: 'N' },
  seed: { type: 'string', value: 'S' },
  threads: { type: 'string', value: 'T' },
  engine: { type: 'string', value: 'cpu|gpu|auto' },
  json: { type: 'boolean' },
  units: UNITS,
  help: { type: 'boolean' },
} as const

export async function traceCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const name = onlyPositional(parsed, 'a lamp file or the name of an example', 'trace')
  const options = {
    // A run has sixteen batches, and none may be empty.
    maxRays: wholeNumber(parsed, 'rays', { from: 16, to: 1e9, otherwise: 2_000_000 }),
    seed: wholeNumber(parsed, 'seed', { from: 0, to: 2 ** 32 - 1, otherwise: 1 }),
    threads: wholeNumber(parsed, 'threads', { from: 0, to: 256, otherwise: availableParallelism() }),
    engine: engineOf(parsed),
  }
  const json = parsed.flags.has('json')
  const system = unitsOf(parsed)
  // The JSON object has no variants.
  const lamp = await openLamp(name)
  const sheet = await traceWithProgress(lamp, { ...options, variants: !json }, tools)
  if (json) tools.io.out(`${JSON.stringify(sheetJson(sheet, VERSION))}\n`)
  else tools.io.out(sheetText(sheet, lamp, system))
  return EXIT.fine
}

function engineOf(parsed: Parsed): EngineChoice {
  const text = parsed.values.get('engine') ?? 'cpu'
  const choice = ENGINE_CHOICES.find((name) => name === text)
  if (choice) return choice
  throw new UserError(`--engine: ${JSON.stringify(text)} does not fit; expected cpu, gpu or auto.`)
}

/** Traces with a progress bar, which is cleared in any case. Precision 0: all the rays requested. */
export async function traceWithProgress(
  lamp: Lamp,
  options: { maxRays: number; seed: number; threads: number; engine?: EngineChoice; variants?: boolean },
  { io, trace }: Tools,
) {
  const progress = progressOn(io)
  try {
    return await trace(lamp, { ...options, precision: 0, background: true }, progress.show)
  } catch (error) {
    if (error instanceof NoDevice) throw new UserError(`No graphics engine: ${error.message}.`)
    throw error
  } finally {
    progress.end()
  }
}
