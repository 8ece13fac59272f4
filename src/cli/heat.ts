// lampwright heat: duration of each mode, what ends it, and the energy balance.
import { availableParallelism } from 'node:os'
import { counted } from '../checks/words.ts'
import type { ModeRun, PowerReport } from '../electrothermal/result.ts'
import { retainedByPilot, retainedFromLedger } from '../job/beam/retainedLight.ts'
import { valueAt } from '../job/power/modeRun.ts'
import { powerFindings, runPower } from '../job/power/run.ts'
import type { Lamp } from '../lamp/schema.ts'
import { powerOf } from '../library/typicalPower.ts'
import { leftOnWords, modeWords, timeWords } from '../report/power.ts'
import { LampFault } from '../run/validate.ts'
import { findingsText } from './findingsText.ts'
import { columns, fixed, short, whole, wrapped } from './format.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { openLamp } from './lampFile.ts'
import { didYouMean } from './nearest.ts'
import { onlyPositional, type Parsed } from './options.ts'
import { traceWithProgress } from './trace.ts'
import { VERSION } from './version.ts'

export const HEAT_OPTIONS = {
  mode: { type: 'string', value: 'NAME' },
  json: { type: 'boolean' },
  help: { type: 'boolean' },
} as const

/** Enough for the share of light that stays in the lamp as heat within a per cent. */
const RAYS = 65_536
const WIDTH = 96

export async function heatCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const lamp = openLamp(onlyPositional(parsed, 'a lamp file or the name of an example', 'heat'))
  const mode = modeOf(lamp, parsed.values.get('mode'))
  const report = runPower(lamp, { mode, retained: await traceRetainedLight(lamp, tools) })
  if (parsed.flags.has('json')) tools.io.out(`${JSON.stringify({ version: VERSION, ...heatJson(lamp, report) })}\n`)
  else tools.io.out(heatText(lamp, report))
  return EXIT.fine
}

/** Light that stays in the lamp, by a short trace; where that has no valid figures, for the lamp gives no light or traps it, by a pilot. */
async function traceRetainedLight(lamp: Lamp, tools: Tools) {
  if (lamp.boards.length === 0) return null
  const options = { maxRays: RAYS, seed: 1, threads: availableParallelism(), variants: false }
  try {
    return retainedFromLedger((await traceWithProgress(lamp, options, tools)).ledger)
  } catch (error) {
    if (error instanceof LampFault) return retainedByPilot(lamp)
    throw error
  }
}

function modeOf(lamp: Lamp, requested: string | undefined): string | undefined {
  if (requested === undefined) return undefined
  const { modes } = powerOf(lamp).value
  const same = (a: string) => a.toLowerCase() === requested.toLowerCase()
  const found = modes.find((m) => m.id === requested) ?? modes.find((m) => same(m.id) || same(m.name))
  if (found) return found.id
  const ids = modes.map((m) => m.id)
  throw new UserError(
    `No mode called ${stripControls(requested)}${didYouMean(requested, ids)}; there is ${ids.join(', ')}.`,
  )
}

const list = (x: Float64Array) => Array.from(x)

export function heatJson(lamp: Lamp, report: PowerReport) {
  const each = <T extends object>(of: T) =>
    Object.fromEntries(Object.entries(of).map(([k, v]) => [k, list(v as Float64Array)])) as Record<keyof T, number[]>
  const { ambientC, assumed, retained, sink, emitters, channelCount } = report
  return {
    lamp: lamp.name,
    ambientC,
    assumed,
    kept: retained,
    sink,
    emitters,
    channels: channelCount,
    modes: report.modes.map((m) => ({
      id: m.id,
      name: m.name,
      words: modeWords(m),
      limit: { ...m.limit, board: m.limit.boardIndex === null ? null : lamp.boards[m.limit.boardIndex]!.id },
      limits: m.limits,
      steppedDown: m.steppedDown,
      sagsFromS: m.sagsFromS,
      letGoFromS: m.letGoFromS,
      fl1S: m.fl1S,
      lmAt30S: m.lmAt30S,
      energyWh: m.energyWh,
      coolHalfS: m.coolHalfS,
      steady: m.steady,
      steadyAfter: m.steadyAfter,
      mostA: m.mostA,
      leastV: m.leastV,
      curves: each(m.curves),
      energy: each(m.energy),
      boards: m.boards,
      driversAtStart: m.channels,
      outside: m.outside,
      fromFull: m.full && {
        limit: m.full.limit,
        limits: m.full.limits,
        steppedDown: m.full.steppedDown,
        steady: m.full.steady,
      },
      leftOn: m.leftOn && {
        words: leftOnWords(m),
        limit: m.leftOn.limit,
        limits: m.leftOn.limits,
        steppedDown: m.leftOn.steppedDown,
        curves: each(m.leftOn.curves),
      },
      ...(m.protection && m.unprotected
        ? {
            protection: m.protection,
            withoutProtection: {
              words: modeWords(m.unprotected),
              limit: m.unprotected.limit,
              limits: m.unprotected.limits,
              steady: m.unprotected.steady,
            },
          }
        : {}),
    })),
    worst: report.worst,
    covered: report.covered,
    findings: powerFindings(lamp, report),
  }
}

function heatText(lamp: Lamp, report: PowerReport): string {
  const { sink, retained } = report
  const light = `Light that stays in the lamp: ${percent(retained.face)} on the face, ${percent(retained.optics)} in the optics, ${percent(retained.wall)} on the tunnel’s wall.`
  const head = [
    stripControls(report.lamp),
    `${counted(report.emitters, 'emitter')} on ${counted(report.channelCount, 'channel')}, air of ${short(report.ambientC)} °C; plate ${short(sink.plateKg)} kg, ${sinkWords(sink)}, ${short(sink.wattPerK)} W/K when 60 K over the air${sink.speedMS === null ? '' : `, air between the fins ${short(sink.speedMS)} m/s`}`,
    light,
    ...report.assumed.map((s) => `Taken as typical: ${stripControls(s)}`),
  ]
  const modes =
    lamp.boards.length > 0
      ? report.modes.map((m) => modeText(lamp, m, sink.rated))
      : ['No board stands on the face: there is nothing to run.']
  const findings = `Findings on heat and power\n${findingsText(powerFindings(lamp, report))}`
  return `${[head.map((l) => wrapped(l, WIDTH, '  ')).join('\n'), ...modes, findings].join('\n\n')}\n`
}

const sinkWords = ({ rated, finKg }: PowerReport['sink']): string =>
  rated
    ? `sink by its data sheet ${short(rated.resistanceKW)} K/W, ${short(rated.heatCapacityJK)} J/K, ${rated.flow} flow`
    : `fins ${short(finKg)} kg`

const percent = (share: number) => `${fixed(100 * share, 1)} %`

function modeText(lamp: Lamp, m: ModeRun, rated: PowerReport['sink']['rated']): string {
  const lines = [stripControls(modeWords(m))]
  if (m.sagsFromS !== null)
    lines.push(
      m.sagsFromS === 0
        ? 'The drivers can’t hold their current.'
        : `From ${timeWords(m.sagsFromS)} on the drivers can’t hold their current.`,
    )
  if (m.fl1S !== null) lines.push(`To a tenth of the light at 30 s (FL 1): ${timeWords(m.fl1S)}.`)
  lines.push(steadyLine(lamp, m))
  if (rated) lines.push(sinkLine(m, rated))
  if (m.unprotected && modeWords(m.unprotected) !== modeWords(m))
    lines.push(`Heat is judged with the protection failed. ${stripControls(modeWords(m.unprotected))}`)
  const left = leftOnWords(m)
  if (left) lines.push(left)
  for (const s of m.outside) lines.push(`Reported: ${stripControls(s)}; its end value is taken.`)
  const indented = [...curveLines(m), '', ...energyLines(m)].map((l) => (l === '' ? '' : `  ${l}`))
  return [...lines.map((l) => wrapped(l, WIDTH, '  ')), ...indented].join('\n')
}

function steadyLine(lamp: Lamp, { steady, steadyAfter, protection }: ModeRun): string {
  const words = (s: NonNullable<ModeRun['steady']>) =>
    `junctions up to ${whole(s.junctionMaxC)} °C (board ${lamp.boards[s.boardIndex]!.id}), plate ${whole(s.plateMeanC)} °C on average${s.bearable ? '' : ', over the limit'}`
  const none =
    protection === null
      ? 'No steady state below 400 °C as asked.'
      : 'No steady state as asked: the cut-out opens before, or it would pass 400 °C.'
  const first = steady ? `Steady state as asked: ${words(steady)}.` : none
  if (!steadyAfter) return first
  return `${first} After the step-down: ${words(steadyAfter)}.`
}

function sinkLine({ curves }: ModeRun, { maxW }: NonNullable<PowerReport['sink']['rated']>): string {
  const top = (y: Float64Array) => y.reduce((most, x) => Math.max(most, x))
  const of = maxW === undefined ? '' : ` (its data sheet permits ${short(maxW)} W)`
  return `Into the sink up to ${short(top(curves.sinkW))} W${of}; its base up to ${whole(Math.ceil(top(curves.sinkC)))} °C.`
}

const TIMES = [0, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200, 10_800, 21_600, 43_200, 86_400]

function curveLines({ curves: c, limit }: ModeRun): string[] {
  const end = c.tS[c.tS.length - 1]!
  const times = [...TIMES.filter((t) => t < 0.97 * end || t === 0), ...(end > 0 ? [end] : [])]
  const at = (y: Float64Array, t: number, digits: number) => fixed(valueAt(c.tS, y, t), digits)
  const rows = times.map((t) => [
    t === 0 ? '0 s' : timeWords(t),
    at(c.lm, t, 0),
    at(c.junctionMaxC, t, 1),
    at(c.plateMaxC, t, 1),
    at(c.plateMeanC, t, 1),
    at(c.supplyV, t, 2),
    at(c.supplyA, t, 2),
    `${fixed(100 * valueAt(c.tS, c.charge, t), 0)} %`,
  ])
  const head = ['after', 'lm', 'junction °C', 'plate °C', 'mean °C', 'supply V', 'A', 'charge']
  return limit.atS < 0 ? [] : columns([head, ...rows], [0, 1, 2, 3, 4, 5, 6, 7])
}

function energyLines({ energy: e }: ModeRun): string[] {
  const last = e.inJ.length - 1
  const all = e.inJ[last]!
  if (!(all > 0)) return []
  const row = (name: string, joules: number) => [
    name,
    fixed(joules / 3600, 2),
    'Wh',
    fixed((100 * joules) / all, 2),
    '%',
  ]
  const parts: [string, Float64Array][] = [
    ['Light that leaves', e.lightJ],
    ['Light into the tunnel’s wall', e.wallJ],
    ['Stored in plate and sink', e.storedJ],
    ['Given to the air', e.toAirJ],
    ['Lost in the drivers', e.driverJ],
    ['Lost in the wires', e.wiresJ],
    ['Lost inside the supply', e.cellsJ],
  ]
  const sum = parts.reduce((total, [, y]) => total + y[last]!, 0)
  return columns([row('Energy in', all), ...parts.map(([name, y]) => row(name, y[last]!)), row('Sum', sum)], [1, 3])
}
