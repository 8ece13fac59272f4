// lampwright measure: what to read off the built lamp, and what the readings say of it.
import { readFileSync, statSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import type { Sheet } from '../job/beam/sheet.ts'
import { type CauseAt, withCause } from '../job/fit/causes.ts'
import { halfOnWallMm, tracedLight } from '../job/fit/fromSheet.ts'
import { makePlan } from '../job/fit/plan.ts'
import { fitPoints } from '../job/fit/points.ts'
import type { Explanation, FitResult, RunningFit } from '../job/fit/result.ts'
import type { RunningKind } from '../job/fit/runningCauses.ts'
import { readLamp, writeLampText } from '../lamp/read.ts'
import type { Meter, Readings } from '../lamp/readings.ts'
import type { Lamp } from '../lamp/schema.ts'
import { powerOf } from '../library/typicalPower.ts'
import { allInSystem } from '../num/quantity.ts'
import { checkReadings, type Expected } from '../readings/check.ts'
import { measuredFigures } from '../readings/figures.ts'
import { parseReadings } from '../readings/parse.ts'
import { withCandela } from '../report/measuring.ts'
import { planCsv, planHtml, planWords } from '../report/measuringPlan.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { openLamp, readFault } from './lampFile.ts'
import { type PictureOrder, pictureCommand } from './measurePicture.ts'
import { fitJson, fitText, planText } from './measureText.ts'
import { didYouMean } from './nearest.ts'
import { type Parsed, UNITS, unitsOf, wholeNumber } from './options.ts'
import { progressOn } from './progress.ts'
import { traceWithProgress } from './trace.ts'
import { VERSION } from './version.ts'
import { expectWritable, writeFile } from './writeFile.ts'

export const MEASURE_OPTIONS = {
  wall: { type: 'string', value: 'METRES' },
  mode: { type: 'string', value: 'NAME' },
  class: { type: 'string', value: 'A|B|C' },
  rays: { type: 'string', value: 'N' },
  seed: { type: 'string', value: 'S' },
  threads: { type: 'string', value: 'T' },
  csv: { type: 'boolean' },
  html: { type: 'boolean' },
  units: UNITS,
  json: { type: 'boolean' },
  marks: { type: 'string', value: 'X,Y,X,Y,X,Y,X,Y' },
  size: { type: 'string', value: 'W,H' },
  'lux-at': { type: 'string', value: 'X,Y' },
  lux: { type: 'string', value: 'LX' },
  stray: { type: 'string', value: 'LX' },
  times: { type: 'string', value: 'S,S…' },
  even: { type: 'string', value: 'FILE' },
  brightest: { type: 'boolean' },
  adopt: { type: 'string', value: 'N' },
  out: { type: 'string', value: 'FILE' },
  force: { type: 'boolean' },
  help: { type: 'boolean' },
} as const

/** Of the trace that tells angles and where the inverse square holds. */
const SHEET_RAYS = 262_144
const PLAN_RAYS = 8_192
const FIT_RAYS = 32_768
const READINGS_BYTES = 2_000_000

export async function measureCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const [what, file, readings, more] = parsed.positionals
  if (what !== 'plan' && what !== 'fit' && what !== 'picture')
    throw new UserError(
      `measure needs what to do: plan, fit or picture${what === undefined ? '' : `, not ${JSON.stringify(what)}`}.`,
    )
  if (file === undefined || file === '')
    throw new UserError(`measure ${what} needs a lamp file or the name of an example.`)
  if (what === 'picture') return pictureCommand(parsed, await pictureOrder(parsed, file), tools)
  const extra = what === 'plan' ? readings : more
  if (extra !== undefined)
    throw new UserError(`measure ${what} takes nothing after its files, but found ${JSON.stringify(extra)}.`)
  return what === 'plan' ? planCommand(parsed, file, tools) : fitCommand(parsed, file, readings, tools)
}

async function pictureOrder(parsed: Parsed, file: string): Promise<PictureOrder> {
  const lamp = await openLamp(file)
  return {
    lamp,
    files: parsed.positionals.slice(2),
    wallM: metresOf(parsed.values.get('wall')),
    mode: modeOf(lamp, parsed.values.get('mode')),
    meter: meterOf(parsed),
    to: outOf(parsed),
    system: unitsOf(parsed),
  }
}

async function planCommand(parsed: Parsed, file: string, tools: Tools): Promise<number> {
  const lamp = await openLamp(file)
  const [form, second] = (['csv', 'html', 'json'] as const).filter((f) => parsed.flags.has(f))
  if (second) throw new UserError(`--${form} and --${second} are two forms; one of them can be written.`)
  const to = outOf(parsed)
  const system = unitsOf(parsed)
  const options = {
    wallM: metresOf(parsed.values.get('wall')),
    mode: modeOf(lamp, parsed.values.get('mode')),
    meter: lamp.readings?.meter,
    seed: wholeNumber(parsed, 'seed', { from: 0, to: 2 ** 32 - 1, otherwise: 1 }),
    rays: wholeNumber(parsed, 'rays', { from: 16, to: 1e7, otherwise: PLAN_RAYS }),
  }
  const sheet = await traceWithProgress(lamp, sheetOptions(parsed), tools)
  const outcome = await makePlan(tools.predict, lamp, sheet, options)
  if (!outcome.ok) throw new UserError(outcome.why)
  const { plan } = outcome
  const text =
    form === 'json'
      ? `${JSON.stringify({ version: VERSION, ...allInSystem(plan, 'metric') })}\n`
      : form === 'csv'
        ? planCsv(plan)
        : form === 'html'
          ? planHtml(planWords(plan, lamp, system))
          : planText(planWords(plan, lamp, system))
  write(tools, to, text)
  return EXIT.fine
}

const sheetOptions = (parsed: Parsed) => ({
  maxRays: SHEET_RAYS,
  seed: wholeNumber(parsed, 'seed', { from: 0, to: 2 ** 32 - 1, otherwise: 1 }),
  threads: wholeNumber(parsed, 'threads', { from: 0, to: 256, otherwise: availableParallelism() }),
  variants: false,
})

async function fitCommand(parsed: Parsed, file: string, from: string | undefined, tools: Tools): Promise<number> {
  const lamp = await openLamp(file)
  const { readings, notes } = from === undefined ? ownReadings(lamp) : readFrom(parsed, lamp, from)
  const to = outOf(parsed)
  const system = unitsOf(parsed)
  const adopt = adoptOf(parsed)
  if (adopt !== null && !to) throw new UserError('--adopt puts a cause into a copy of the lamp; --out FILE says where.')
  const fitted = isFitted(readings) ? await fitWithProgress(parsed, lamp, readings, tools) : null
  const light = fitted?.light ?? null
  if (light && !light.ok) throw new UserError(light.why)
  const result = light?.result ?? null
  const running = fitted?.running ?? []
  if (adopt !== null && to) {
    const copy = adopted(lamp, readings, explanationsOf(adopt.of, result, running), adopt)
    writeFile(to, writeLampText(copy), parsed.flags.has('force'))
    tools.io.out(`Wrote ${stripControls(to)}.\n`)
    return EXIT.fine
  }
  const sheet = readings.sets.some((s) => s.kind === 'line')
    ? await traceWithProgress(lamp, sheetOptions(parsed), tools)
    : null
  const figures = withCandela(measuredFigures(readings, sheet && tracedLight(lamp, sheet)), result)
  const warnings = checkReadings(readings, result ? expectedOf(readings, result, sheet) : undefined)
  const all = { lamp, readings, notes, figures, warnings, result, running }
  write(tools, to, parsed.flags.has('json') ? `${JSON.stringify(fitJson(all))}\n` : fitText(all, system))
  return EXIT.fine
}

const isFitted = (readings: Readings): boolean =>
  fitPoints(readings).points.length >= 2 || readings.sets.some((s) => s.kind === 'running')

async function fitWithProgress(parsed: Parsed, lamp: Lamp, readings: Readings, { io, fitReadings }: Tools) {
  const progress = progressOn(io, (done, all) => `${done} of ${all} predictions, and what follows from them`)
  const options = {
    seed: wholeNumber(parsed, 'seed', { from: 0, to: 2 ** 32 - 1, otherwise: 1 }),
    rays: wholeNumber(parsed, 'rays', { from: 1024, to: 1e7, otherwise: FIT_RAYS }),
    threads: wholeNumber(parsed, 'threads', { from: 0, to: 256, otherwise: availableParallelism() }),
  }
  try {
    return await fitReadings(lamp, readings, options, (done, all) => progress.show({ rays: done, maxRays: all }))
  } finally {
    progress.end()
  }
}

/** Lux predicted for each row of each set, and how wide the traced beam is on its wall. */
function expectedOf(readings: Readings, { points }: FitResult, sheet: Sheet | null): Map<string, Expected> {
  return new Map(
    readings.sets.flatMap((set): [string, Expected][] => {
      const lx = points.filter((p) => p.setId === set.id).map((p) => p.predictedLx)
      return lx.length > 0 ? [[set.id, { lx, halfMm: halfOnWallMm(set, sheet) }]] : []
    }),
  )
}

/** "2", "heat:1", "power:3". */
function adoptOf(parsed: Parsed): { of: 'light' | RunningKind; n: number } | null {
  const text = parsed.values.get('adopt')
  if (text === undefined) return null
  const found = /^(?:(light|heat|power):)?([1-9]\d?)$/.exec(text)
  if (!found)
    throw new UserError(
      `--adopt: ${JSON.stringify(text)} does not fit; expected the number of a cause, or heat:N or power:N.`,
    )
  const of = found[1] === 'heat' || found[1] === 'power' ? found[1] : 'light'
  return { of, n: Number(found[2]) }
}

function explanationsOf(
  of: 'light' | RunningKind,
  result: FitResult | null,
  running: readonly RunningFit[],
): readonly Explanation[] {
  return (of === 'light' ? result?.explanations : running.find((f) => f.kind === of)?.explanations) ?? []
}

function adopted(lamp: Lamp, readings: Readings, explanations: readonly Explanation[], { n }: { n: number }): Lamp {
  const explanation = explanations[n - 1]
  if (!explanation) throw new UserError(`--adopt ${n}: there is no such line; the first is 1.`)
  let made: Lamp = { ...lamp, readings }
  for (const cause of explanation.causes) {
    const at: CauseAt = { key: cause.key, board: cause.board }
    const next = withCause(made, at, cause.value)
    if (!next.ok) throw new UserError(`It can't be adopted: ${next.why.map(stripControls).join(' ')}`)
    made = next.lamp
  }
  return made
}

function ownReadings(lamp: Lamp): { readings: Readings; notes: string[] } {
  if (!lamp.readings || lamp.readings.sets.length === 0)
    throw new UserError('This lamp has no readings of its own; name a file of readings behind it.')
  return { readings: lamp.readings, notes: [] }
}

function readFrom(parsed: Parsed, lamp: Lamp, path: string): { readings: Readings; notes: string[] } {
  const wallM = metresOf(parsed.values.get('wall'))
  const mode = parsed.values.has('mode') ? modeOf(lamp, parsed.values.get('mode')) : null
  const meter = meterOf(parsed)
  const read = parseReadings(textOf(path), {
    defaults: { ...(wallM !== null && { wallM }), ...(mode !== null && { mode }), ...(meter && { meter }) },
  })
  if (!read.ok) throw new UserError(`${path} holds no readings:\n  ${read.why.map(stripControls).join('\n  ')}`)
  const readings: Readings = { ...(lamp.readings?.meter && { meter: lamp.readings.meter }), sets: read.sets }
  // The same limits as in a lamp's file.
  const valid = readLamp({ ...lamp, readings })
  if (!valid.ok) throw new UserError(`${path}: ${valid.why.map(stripControls).join('\n  ')}`)
  return { readings, notes: read.notes }
}

function meterOf(parsed: Parsed): Meter | null {
  const text = parsed.values.get('class')
  if (text === undefined) return null
  const found = (['A', 'B', 'C'] as const).find((c) => c === text.toUpperCase())
  if (!found) throw new UserError(`--class: ${JSON.stringify(text)} does not fit; expected A, B or C.`)
  return { class: found }
}

function textOf(path: string): string {
  try {
    if (statSync(path).size > READINGS_BYTES)
      throw new UserError(`${path}: too large for readings; expected at most 2 MB.`)
    return readFileSync(path, 'utf8')
  } catch (error) {
    if (error instanceof UserError) throw error
    throw new UserError(readFault(path, error, 'a file of readings'))
  }
}

function metresOf(text: string | undefined): number | null {
  if (text === undefined) return null
  const metres = Number(text.replace(/\s*m$/, ''))
  if (metres >= 0.05 && metres <= 10_000) return metres
  throw new UserError(`--wall: ${JSON.stringify(text)} does not fit; expected metres from 0.05 to 10,000.`)
}

function modeOf(lamp: Lamp, text: string | undefined): string | null {
  if (text === undefined) return null
  const { modes } = powerOf(lamp).value
  const found =
    lamp.power && modes.find((m) => [m.id, m.name].some((name) => name.toLowerCase() === text.toLowerCase()))
  if (found) return found.id
  const ids = lamp.power ? modes.map((m) => m.id) : []
  throw new UserError(
    `No mode called ${stripControls(text)}${didYouMean(text, ids)}; ${ids.length > 0 ? `there is ${ids.join(', ')}` : 'the lamp has no power entry'}.`,
  )
}

function outOf(parsed: Parsed): string | null {
  const to = parsed.values.get('out') ?? null
  if (to !== null) expectWritable(to, parsed.flags.has('force'))
  return to
}

function write({ io }: Tools, to: string | null, text: string): void {
  if (to === null) io.out(text)
  else {
    writeFile(to, text, true)
    io.out(`Wrote ${stripControls(to)}.\n`)
  }
}
