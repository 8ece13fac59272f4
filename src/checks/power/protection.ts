// Cut-out and fold-back: set too high, too low, or all that stands between a mode and its limit. Every other rule takes both as failed.
import { crossesAt, passesAt, type TimedLimit } from '../../heat/limits.ts'
import { sensorCurveC, USUAL_LAG_S } from '../../heat/sensor.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { fractionalIndex } from '../../num/interpolate.ts'
import type { Finding } from '../finding.ts'
import { most, namesOf, type PowerParts } from '../powerParts.ts'
import { celsius, celsiusDown, degreesC, mm, mmNumber, plain, seconds } from '../words.ts'

type Mode = PowerParts['modes'][number]
type Sensor = NonNullable<NonNullable<Lamp['power']>['protection']>['sensor']

const failsWords = (sensor: Sensor): string =>
  `A thermostat can weld shut and an NTC can break or come off its place; ${sensor ? `both read at x ${mmNumber(sensor.xMm)}, y ${mm(sensor.yMm)} here, ${plain(sensor.lagS)} s behind the plate` : 'both are read at once at the plate’s hottest cell here, and one mounted elsewhere acts later'}.`
const PLACE: Finding['place'] = { kind: 'part', part: 'heat' }
const MINUTE_S = 60

export function protection({ power }: Lamp, parts: PowerParts): Finding[] {
  const modes = parts.modes.filter((m) => m.protection)
  const { cutOut, foldBack, sensor } = power?.protection ?? {}
  const fails = failsWords(sensor)
  return [
    ...(cutOut
      ? modes.flatMap((m) => [...opensTooLate(m, cutOut.openC, fails), ...opensTooSoon(m, cutOut.openC)])
      : []),
    ...(sensor
      ? []
      : modes.flatMap((m) => [...placeOfCutOut(m, cutOut?.openC), ...placeOfFoldBack(m, foldBack?.startC)])),
    ...modes.flatMap((m) => stillOver(m, fails)),
    ...onlyProtection(modes, fails),
    ...(foldBack ? neverFolds(modes, foldBack.startC) : []),
  ]
}

/** When the cut-out would open, without the fold-back's help; null: not before the mode's end. */
const opensAt = ({ curves, watchedC }: Mode, openC: number): number | null =>
  passesAt({ tS: curves.tS, plateMaxC: watchedC }, openC)

const PROTECTED: readonly TimedLimit['limit'][] = ['junction', 'optic', 'insulation']

function opensTooLate(mode: Mode, openC: number, fails: string): Finding[] {
  const openS = opensAt(mode, openC) ?? Number.POSITIVE_INFINITY
  const before = mode.limits.filter((l) => PROTECTED.includes(l.limit) && l.atS < openS)
  if (before.length === 0) return []
  const each = before.map((l) => `${partWords(l)} after ${seconds(l.atS)}, ${readsWords(mode, l.atS)}`)
  const leadsOnly = before.every((l) => l.limit === 'insulation')
  return [
    {
      rule: 'cut-out-too-high',
      severity: leadsOnly ? 'warning' : 'severe',
      title: `“${mode.name}”: the cut-out opens at ${degreesC(openC)}, too late for ${each.join('; for ')}.`,
      why: `At these moments the cut-out still lets all of the current through: by the model, with a fold-back failed and from a full pack. ${fails}`,
      cure: 'Let it open below the lowest of these temperatures, with some kelvin to spare for its tolerance; or more sink or air, or less current.',
      place: PLACE,
    },
  ]
}

function partWords({ limit, part, celsius: c }: TimedLimit): string {
  if (limit === 'junction') return `the emitters of ${part}, at their limit`
  if (limit === 'optic') return `plastic optics on the face (${part}, ${degreesC(c ?? 0)})`
  return `${part} (insulation, ${degreesC(c ?? 0)})`
}

/** Rounded down: a cut-out at this temperature is already late. */
const readsWords = ({ curves, watchedC }: Mode, atS: number): string =>
  `when it reads ${celsiusDown(onCurve(curves.tS, watchedC, atS))}`

function onCurve(tS: ArrayLike<number>, y: ArrayLike<number>, atS: number): number {
  const [i, part] = fractionalIndex(tS, atS)
  const from = y[i] ?? 0
  const to = y[Math.min(i + 1, y.length - 1)] ?? from
  return from + part * (to - from)
}

/** What a sensor reads whose place and lag nobody has said: the coolest place, and a usual lag. */
const worstReadC = ({ curves }: Mode): ArrayLike<number> | null =>
  curves.plateMinC ? sensorCurveC(curves.tS, curves.plateMinC, USUAL_LAG_S) : null

const PLACE_WHY = `The document doesn’t say where the sensor sits, nor how slowly it follows. The plate’s coolest place is taken, and a lag of ${USUAL_LAG_S} s (a thermostat’s disc or a screwed or glued NTC, 5 to 20 s: common practice, no source).`
const PLACE_CURE =
  'Mount it beside the hottest board, with paste, and enter its place and lag; let it act at a lower temperature.'

/** In time at the hottest place, and perhaps not where it is. */
function placeOfCutOut(mode: Mode, openC: number | undefined): Finding[] {
  const reads = worstReadC(mode)
  if (openC === undefined || !reads) return []
  const bestS = opensAt(mode, openC) ?? Number.POSITIVE_INFINITY
  const worstS = crossesAt(mode.curves.tS, reads, openC) ?? Number.POSITIVE_INFINITY
  const before = mode.limits.filter((l) => PROTECTED.includes(l.limit) && l.atS >= bestS && l.atS < worstS)
  if (before.length === 0) return []
  const each = before.map(
    (l) =>
      `${partWords(l)} after ${seconds(l.atS)}, when it reads ${celsiusDown(onCurve(mode.curves.tS, reads, l.atS))}`,
  )
  return [
    {
      rule: 'protection-place',
      severity: 'warning',
      title: `“${mode.name}”: the cut-out of ${degreesC(openC)} is in time at the plate’s hottest place only; at the coolest, ${USUAL_LAG_S} s behind it, it is too late for ${each.join('; for ')}.`,
      why: PLACE_WHY,
      cure: PLACE_CURE,
      place: PLACE,
    },
  ]
}

/** The junctions are at their limit, and it has not begun. */
function placeOfFoldBack(mode: Mode, startC: number | undefined): Finding[] {
  const reads = worstReadC(mode)
  const over = mode.limits.find((l) => l.limit === 'junction')
  if (startC === undefined || !reads || !over) return []
  const readsC = onCurve(mode.curves.tS, reads, over.atS)
  const bestC = onCurve(mode.curves.tS, mode.watchedC, over.atS)
  if (bestC < startC || readsC >= startC) return []
  return [
    {
      rule: 'protection-place',
      severity: 'warning',
      title: `“${mode.name}”: the fold-back from ${degreesC(startC)} on acts in time at the plate’s hottest place only; at the coolest, ${USUAL_LAG_S} s behind it, it reads ${celsiusDown(readsC)} when the emitters of ${over.part} are at their limit, after ${seconds(over.atS)}: it has not begun.`,
      why: PLACE_WHY,
      cure: PLACE_CURE,
      place: PLACE,
    },
  ]
}

function opensTooSoon(mode: Mode, openC: number): Finding[] {
  const atS = opensAt(mode, openC)
  const never = (mode.watchedC[0] ?? 0) >= openC
  if (!never && (atS === null || atS >= MINUTE_S)) return []
  return [
    {
      rule: 'cut-out-low',
      severity: never ? 'warning' : 'note',
      title: never
        ? `“${mode.name}” never comes on: the air is as warm as the ${degreesC(openC)} at which the cut-out opens.`
        : `“${mode.name}”: the cut-out opens at ${degreesC(openC)}, which the plate passes after ${seconds(atS ?? 0)}.`,
      why: 'Less than a minute of light before the first opening, or none. A warmer day makes it shorter. Without a fold-back, which may come before.',
      cure: 'More sink or air, less current in this mode, or a cut-out that opens higher but still under every limit.',
      place: PLACE,
    },
  ]
}

/** The protection works and does not keep the junctions under their limit. */
function stillOver(mode: Mode, fails: string): Finding[] {
  const { limitProtected: end } = mode
  if (end?.kind !== 'junction') return []
  return [
    {
      rule: 'protection-too-weak',
      severity: 'warning',
      title: `“${mode.name}”: with its protection working the emitters still reach their limit after ${seconds(end.atS)}.`,
      why: `The cut-out opens too high, or the fold-back begins too high or leaves too much. ${fails}`,
      cure: 'Let it act at a lower temperature, or leave less current.',
      place: PLACE,
    },
  ]
}

function onlyProtection(modes: readonly Mode[], fails: string): Finding[] {
  const guarded = modes.filter((m) => m.limit.kind === 'junction' && m.limitProtected?.kind !== 'junction')
  if (guarded.length === 0) return []
  const opens = guarded.some((m) => m.protection?.firstOpenS != null)
  const folds = guarded.some((m) => m.protection?.foldsFromS != null)
  const what = opens && folds ? 'cut-out and fold-back keep' : opens ? 'the cut-out keeps' : 'the fold-back keeps'
  return [
    {
      rule: 'protection-alone',
      severity: 'note',
      title: `In ${namesOf(guarded)} ${what} the emitters under their limit in normal operation; it must not be the only protection.`,
      why: `${fails} All rules on heat, the worst-case table and the traced light take it as failed.`,
      cure: 'Make the mode bearable without it: a step-down rule, more sink or air, less current; or a second protection that does not share its sensor.',
      place: PLACE,
    },
  ]
}

function neverFolds(modes: readonly Mode[], startC: number): Finding[] {
  const top = modes.reduce((c, m) => Math.max(c, most(m.watchedC)), Number.NEGATIVE_INFINITY)
  if (modes.length === 0 || top > startC) return []
  return [
    {
      rule: 'fold-back-idle',
      severity: 'note',
      title: `The fold-back never comes into play: it begins at ${degreesC(startC)}, and no mode brings the plate over ${celsius(top)} where it reads.`,
      why: 'Each mode ends or settles before. In warmer air it may come into play.',
      cure: 'If it is meant for warmer air, leave it. Otherwise let it begin lower.',
      place: PLACE,
    },
  ]
}
