// Heat and power of a mode in rows and lines of words, the same on the terminal and in the book. Names are as in the document: escape them.

import { counted } from '../checks/words.ts'
import type { ModeRun, PowerReport } from '../electrothermal/result.ts'
import { valueAt } from '../job/power/modeRun.ts'
import type { Lamp } from '../lamp/schema.ts'
import { allInSystem, inEither, temperatureText } from '../num/quantity.ts'
import { fahrenheit, fahrenheitApart, poundsText, type UnitSystem } from '../num/unitSystem.ts'
import { fixed, short, shortDown, shortUp, whole } from './numbers.ts'
import { leftOnWords, modeWords, reachedC, timeWords } from './power.ts'

/** What the lamp's heat rests on: emitters, plate, sink, air, what light stays in it, and what was taken as typical. */
export function heatHeadLines(report: PowerReport, system: UnitSystem = 'metric'): string[] {
  const { sink, retained } = report
  return allInSystem(
    [
      `${counted(report.emitters, 'emitter')} on ${counted(report.channelCount, 'channel')}, air of ${temperatureText(short(report.ambientC), report.ambientC)}; plate ${massText(sink.plateKg)}, ${sinkWords(sink)}, ${short(sink.wattPerK)} W/K when ${inEither('60 K', fahrenheitApart(60))} over the air${sink.speedMS === null ? '' : `, air between the fins ${short(sink.speedMS)} m/s`}`,
      `Light that stays in the lamp: ${percent(retained.face)} on the face, ${percent(retained.optics)} in the optics, ${percent(retained.wall)} on the tunnel’s wall.`,
      ...report.assumed.map((s) => `Taken as typical: ${s}`),
    ],
    system,
  )
}

const sinkWords = ({ rated, finKg }: PowerReport['sink']): string =>
  rated
    ? `sink by its data sheet ${short(rated.resistanceKW)} K/W, ${short(rated.heatCapacityJK)} J/K, ${rated.flow} flow`
    : `fins ${massText(finKg)}`

const massText = (kg: number) => inEither(`${short(kg)} kg`, poundsText(kg))
const temperature = (c: number) => temperatureText(whole(c), c)

const percent = (share: number) => `${fixed(100 * share, 1)} %`

/** What a mode comes to, a sentence or two each. */
export function modeLines(
  lamp: Lamp,
  m: ModeRun,
  rated: PowerReport['sink']['rated'],
  system: UnitSystem = 'metric',
): string[] {
  const lines = [modeWords(m, temperature)]
  if (m.sagsFromS !== null)
    lines.push(
      m.sagsFromS === 0
        ? 'The drivers can’t hold their current.'
        : `From ${timeWords(m.sagsFromS, 'down')} on the drivers can’t hold their current.`,
    )
  if (m.fl1S !== null) lines.push(`To a tenth of the light at 30 s (FL 1): ${timeWords(m.fl1S, 'down')}.`)
  lines.push(steadyLine(lamp, m))
  if (rated) lines.push(sinkLine(m, rated))
  if (m.unprotected && modeWords(m.unprotected, temperature) !== modeWords(m, temperature))
    lines.push(`Heat is judged with the protection failed. ${modeWords(m.unprotected, temperature)}`)
  const left = leftOnWords(m, temperature)
  if (left) lines.push(left)
  for (const s of m.outside) lines.push(`Reported: ${s}; its end value is taken.`)
  return allInSystem(lines, system)
}

function steadyLine(lamp: Lamp, { steady, steadyAfter, protection }: ModeRun): string {
  const words = (s: NonNullable<ModeRun['steady']>) =>
    `junctions up to ${temperature(reachedC(s.junctionMaxC))} (board ${lamp.boards[s.boardIndex]!.id}), plate ${temperature(reachedC(s.plateMeanC))} on average${s.bearable ? '' : ', over the limit'}`
  const none =
    protection === null
      ? `No steady state below ${temperature(400)} as asked.`
      : `No steady state as asked: the cut-out opens before, or it would pass ${temperature(400)}.`
  const first = steady ? `Steady state as asked: ${words(steady)}.` : none
  if (!steadyAfter) return first
  return `${first} After the step-down: ${words(steadyAfter)}.`
}

function sinkLine({ curves }: ModeRun, { maxW }: NonNullable<PowerReport['sink']['rated']>): string {
  const top = (y: Float64Array) => y.reduce((most, x) => Math.max(most, x))
  const of = maxW === undefined ? '' : ` (its data sheet permits ${shortDown(maxW)} W)`
  return `Into the sink up to ${shortUp(top(curves.sinkW))} W${of}; its base up to ${temperature(reachedC(top(curves.sinkC)))}.`
}

const TIMES = [0, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200, 10_800, 21_600, 43_200, 86_400]

export const curveHead = (system: UnitSystem = 'metric'): string[] => {
  const unit = system === 'inch' ? '°F' : '°C'
  return ['after', 'lm', `junction ${unit}`, `plate ${unit}`, `mean ${unit}`, 'supply V', 'A', 'charge']
}

/** Rows under `curveHead` at handy moments up to the mode's end; empty where it never ran. */
export function curveRows({ curves: c, limit }: ModeRun, system: UnitSystem = 'metric'): string[][] {
  if (limit.atS < 0) return []
  const end = c.tS[c.tS.length - 1]!
  const times = [...TIMES.filter((t) => t < 0.97 * end || t === 0), ...(end > 0 ? [end] : [])]
  const at = (y: Float64Array, t: number, digits: number) => fixed(valueAt(c.tS, y, t), digits)
  const warm = (y: Float64Array, t: number) => inEither(at(y, t, 1), fixed(fahrenheit(valueAt(c.tS, y, t)), 1))
  return allInSystem(
    times.map((t) => [
      t === 0 ? '0 s' : timeWords(t),
      at(c.lm, t, 0),
      warm(c.junctionMaxC, t),
      warm(c.plateMaxC, t),
      warm(c.plateMeanC, t),
      at(c.supplyV, t, 2),
      at(c.supplyA, t, 2),
      `${fixed(100 * valueAt(c.tS, c.charge, t), 0)} %`,
    ]),
    system,
  )
}

/** Where the energy goes: what, Wh, "Wh", share, "%"; empty where none was taken. */
export function energyRows({ energy: e }: ModeRun): string[][] {
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
  return [row('Energy in', all), ...parts.map(([name, y]) => row(name, y[last]!)), row('Sum', sum)]
}
