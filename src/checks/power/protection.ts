// Cut-out and fold-back: set too high, too low, or all that stands between a mode and its limit. Every other rule takes both as failed.
import { passesAt, type TimedLimit } from '../../heat/limits.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { fractionalIndex } from '../../num/interpolate.ts'
import type { Finding } from '../finding.ts'
import { most, namesOf, type PowerParts } from '../powerParts.ts'
import { celsius, plain, seconds } from '../words.ts'

type Mode = PowerParts['modes'][number]

const FAILS =
  'A thermostat can weld shut and an NTC can break or come off its place; both are read at once at the plate’s hottest cell here, and one mounted elsewhere acts later.'
const PLACE: Finding['place'] = { kind: 'part', part: 'heat' }
const MINUTE_S = 60

export function protection({ power }: Lamp, parts: PowerParts): Finding[] {
  const modes = parts.modes.filter((m) => m.protection)
  const { cutOut, foldBack } = power?.protection ?? {}
  return [
    ...(cutOut ? modes.flatMap((m) => [...opensTooLate(m, cutOut.openC), ...opensTooSoon(m, cutOut.openC)]) : []),
    ...modes.flatMap(stillOver),
    ...onlyProtection(modes),
    ...(foldBack ? neverFolds(modes, foldBack.startC) : []),
  ]
}

/** When the cut-out would open, without the fold-back's help; null: not before the mode's end. */
const opensAt = ({ curves, watchedC }: Mode, openC: number): number | null =>
  passesAt({ tS: curves.tS, plateMaxC: watchedC }, openC)

const PROTECTED: readonly TimedLimit['limit'][] = ['junction', 'optic', 'insulation']

function opensTooLate(mode: Mode, openC: number): Finding[] {
  const openS = opensAt(mode, openC) ?? Number.POSITIVE_INFINITY
  const before = mode.limits.filter((l) => PROTECTED.includes(l.limit) && l.atS < openS)
  if (before.length === 0) return []
  const each = before.map((l) => `${partWords(l)} after ${seconds(l.atS)}, ${readsWords(mode, l.atS)}`)
  const leadsOnly = before.every((l) => l.limit === 'insulation')
  return [
    {
      rule: 'cut-out-too-high',
      severity: leadsOnly ? 'warning' : 'severe',
      title: `“${mode.name}”: the cut-out opens at ${plain(openC)} °C, too late for ${each.join('; for ')}.`,
      why: `At these moments the cut-out still lets all of the current through: by the model, with a fold-back failed and from a full pack. ${FAILS}`,
      cure: 'Let it open below the lowest of these temperatures, with some kelvin to spare for its tolerance; or more sink or air, or less current.',
      place: PLACE,
    },
  ]
}

function partWords({ limit, part, celsius: c }: TimedLimit): string {
  if (limit === 'junction') return `the emitters of ${part}, at their limit`
  if (limit === 'optic') return `plastic optics on the face (${part}, ${plain(c ?? 0)} °C)`
  return `${part} (insulation, ${plain(c ?? 0)} °C)`
}

/** Rounded down: a cut-out at this temperature is already late. */
function readsWords({ curves, watchedC }: Mode, atS: number): string {
  const [i, part] = fractionalIndex(curves.tS, atS)
  const from = watchedC[i] ?? 0
  const to = watchedC[Math.min(i + 1, watchedC.length - 1)] ?? from
  return `when it reads ${Math.floor(from + part * (to - from))} °C`
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
        ? `“${mode.name}” never comes on: the air is as warm as the ${plain(openC)} °C at which the cut-out opens.`
        : `“${mode.name}”: the cut-out opens at ${plain(openC)} °C, which the plate passes after ${seconds(atS ?? 0)}.`,
      why: 'Less than a minute of light before the first opening, or none. A warmer day makes it shorter. Without a fold-back, which may come before.',
      cure: 'More sink or air, less current in this mode, or a cut-out that opens higher but still under every limit.',
      place: PLACE,
    },
  ]
}

/** The protection works and does not keep the junctions under their limit. */
function stillOver(mode: Mode): Finding[] {
  const { limitProtected: end } = mode
  if (end?.kind !== 'junction') return []
  return [
    {
      rule: 'protection-too-weak',
      severity: 'warning',
      title: `“${mode.name}”: with its protection working the emitters still reach their limit after ${seconds(end.atS)}.`,
      why: `The cut-out opens too high, or the fold-back begins too high or leaves too much. ${FAILS}`,
      cure: 'Let it act at a lower temperature, or leave less current.',
      place: PLACE,
    },
  ]
}

function onlyProtection(modes: readonly Mode[]): Finding[] {
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
      why: `${FAILS} All rules on heat, the worst-case table and the traced light take it as failed.`,
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
      title: `The fold-back never comes into play: it begins at ${plain(startC)} °C, and no mode brings the plate over ${celsius(top)} where it reads.`,
      why: 'Each mode ends or settles before. In warmer air it may come into play.',
      cure: 'Nothing, if it is meant for warmer air; else let it begin lower.',
      place: PLACE,
    },
  ]
}
