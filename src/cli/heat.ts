// lampwright heat: duration of each mode, what ends it, and the energy balance.

import { availableParallelism } from 'node:os'
import { findingsIn } from '../checks/finding.ts'
import type { ModeRun, PowerReport } from '../electrothermal/result.ts'
import { retainedByPilot, retainedFromLedger } from '../job/beam/retainedLight.ts'
import { powerFindings, runPower } from '../job/power/run.ts'
import type { Lamp } from '../lamp/schema.ts'
import { powerOf } from '../library/typicalPower.ts'
import { allInSystem } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { curveHead, curveRows, energyRows, heatHeadLines, modeLines } from '../report/heatRows.ts'
import { leftOnWords, modeWords } from '../report/power.ts'
import { LampFault } from '../run/validate.ts'
import { findingsText } from './findingsText.ts'
import { columns, wrapped } from './format.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { openLamp } from './lampFile.ts'
import { didYouMean } from './nearest.ts'
import { onlyPositional, type Parsed, UNITS, unitsOf } from './options.ts'
import { traceWithProgress } from './trace.ts'
import { VERSION } from './version.ts'

export const HEAT_OPTIONS = {
  mode: { type: 'string', value: 'NAME' },
  json: { type: 'boolean' },
  units: UNITS,
  help: { type: 'boolean' },
} as const

/** Enough for the share of light that stays in the lamp as heat within a per cent. */
const RAYS = 65_536
const WIDTH = 96

export async function heatCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const system = unitsOf(parsed)
  const lamp = await openLamp(onlyPositional(parsed, 'a lamp file or the name of an example', 'heat'))
  const mode = modeOf(lamp, parsed.values.get('mode'))
  const report = runPower(lamp, { mode, retained: await traceRetainedLight(lamp, tools) })
  if (parsed.flags.has('json')) tools.io.out(`${JSON.stringify({ version: VERSION, ...heatJson(lamp, report) })}\n`)
  else tools.io.out(heatText(lamp, report, system))
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
    assumed: allInSystem(assumed, 'metric'),
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
    findings: findingsIn(powerFindings(lamp, report), 'metric'),
  }
}

function heatText(lamp: Lamp, report: PowerReport, system: UnitSystem): string {
  const head = [report.lamp, ...heatHeadLines(report, system)].map(stripControls)
  const modes =
    lamp.boards.length > 0
      ? report.modes.map((m) => modeText(lamp, m, report.sink.rated, system))
      : ['No board stands on the face: there is nothing to run.']
  const findings = `Findings on heat and power\n${findingsText(findingsIn(powerFindings(lamp, report), system))}`
  return `${[head.map((l) => wrapped(l, WIDTH, '  ')).join('\n'), ...modes, findings].join('\n\n')}\n`
}

function modeText(lamp: Lamp, m: ModeRun, rated: PowerReport['sink']['rated'], system: UnitSystem): string {
  const lines = modeLines(lamp, m, rated, system).map((l) => wrapped(stripControls(l), WIDTH, '  '))
  const curve = curveRows(m, system)
  const tables = [
    ...(curve.length > 0 ? columns([curveHead(system), ...curve], [0, 1, 2, 3, 4, 5, 6, 7]) : []),
    '',
    ...columns(energyRows(m), [1, 3]),
  ]
  return [...lines, ...tables.map((l) => (l === '' ? '' : `  ${l}`))].join('\n')
}
