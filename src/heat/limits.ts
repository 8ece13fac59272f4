// What a run passes on its way, in the order of time: not only what ends it. One list for every line, rule and print.
import { CONTACTS, touchBurnsFromC } from '../library/contactBurns.ts'
import { OPTIC_LIMIT } from '../library/thresholds.ts'

/** Curves of one run, one value for each moment. */
export interface LimitCurves {
  tS: ArrayLike<number>
  plateMaxC: ArrayLike<number>
  /** Into the sink, W; absent: not known. */
  sinkW?: ArrayLike<number>
}

export interface LimitRun {
  limit: { kind: string; atS: number; boardIndex: number | null }
  sagsFromS: number | null
  letGoFromS: number | null
  curves: LimitCurves
}

/** What stands on the plate, apart from the emitters. */
export interface PartsOnPlate {
  /** Names of optics that are moulded of plastic. */
  plasticOptics: readonly string[]
  /** Limit of the insulation of the leads that end on the plate, °C; null: the document names none. */
  leadInsulationC: number | null
  boardNames: readonly string[]
  /** Largest heat that the sink's data sheet permits, W; null: none is known. */
  sinkMaxW: number | null
}

export interface TimedLimit {
  limit: 'junction' | 'optic' | 'insulation' | 'touch' | 'sink' | 'driver' | 'pack'
  /** Which part, in words. */
  part: string
  /** Seconds from switch-on. */
  atS: number
  /** The temperature passed, of the plate's hottest place; null where it is none. */
  celsius: number | null
  /** How long a touch lasts, where it is one. */
  contactS: number | null
  /** The run ends here. */
  ends: boolean
}

/** Seconds until the plate's hottest place passes limitC, between two moments by a straight line; null: never. */
export const passesAt = ({ tS, plateMaxC }: LimitCurves, limitC: number): number | null =>
  crossesAt(tS, plateMaxC, limitC)

/** Seconds until the sink takes more than maxW, W; null: never, or not known. */
const sinkPassesAt = ({ tS, sinkW }: LimitCurves, maxW: number): number | null =>
  sinkW ? crossesAt(tS, sinkW, maxW) : null

/** Seconds until a curve passes a limit (in the curve's unit), between two moments by a straight line; null: never. */
export function crossesAt(tS: ArrayLike<number>, y: ArrayLike<number>, limit: number): number | null {
  let before: { s: number; y: number } | null = null
  for (let i = 0; i < tS.length; i++) {
    const now = { s: tS[i]!, y: y[i]! }
    if (now.y > limit) return before ? before.s + ((limit - before.y) / (now.y - before.y)) * (now.s - before.s) : now.s
    before = now
  }
  return null
}

/**
 * Every limit that a run passes, the earliest first (s, °C): plastic optics and leads at the plate's hottest place, the
 * earliest burn by touch, the sink's largest heat (W), drivers, pack, junctions. Limits of the optics: library/thresholds.ts; of a touch:
 * library/contactBurns.ts (ISO 13732-1). Empty where the run passes none.
 */
export function limitsOf(run: LimitRun, parts: PartsOnPlate): TimedLimit[] {
  const found: TimedLimit[] = []
  const none = { celsius: null, contactS: null, ends: false }
  const ofPlate = (limit: 'optic' | 'insulation', part: string, celsius: number) => {
    const atS = passesAt(run.curves, celsius)
    if (atS !== null) found.push({ ...none, limit, part, atS, celsius })
  }
  if (parts.plasticOptics.length > 0)
    ofPlate('optic', parts.plasticOptics.map((name) => `“${name}”`).join(', '), OPTIC_LIMIT.limitC)
  if (parts.leadInsulationC !== null) ofPlate('insulation', 'the boards’ leads', parts.leadInsulationC)
  const touch = firstBurn(run.curves)
  if (touch) found.push(touch)
  if (parts.sinkMaxW !== null) {
    const atS = sinkPassesAt(run.curves, parts.sinkMaxW)
    const part = `the sink takes more than the ${parts.sinkMaxW} W of its data sheet`
    if (atS !== null) found.push({ ...none, limit: 'sink', part, atS })
  }
  const { letGoFromS, sagsFromS } = run
  if (sagsFromS !== null)
    found.push({ ...none, limit: 'driver', part: 'a driver can’t hold its current', atS: sagsFromS })
  if (letGoFromS !== null && (run.limit.kind !== 'drivers' || letGoFromS < run.limit.atS))
    found.push({ ...none, limit: 'driver', part: 'a driver switches off', atS: letGoFromS })
  const end = endOf(run, parts)
  if (end) found.push(end)
  return found.sort((a, b) => a.atS - b.atS)
}

/** A hand that is laid on the plate as it passes a contact's temperature is burnt once that contact's time has gone by. */
function firstBurn(curves: LimitCurves): TimedLimit | null {
  let first: TimedLimit | null = null
  for (const [i, { seconds, words }] of CONTACTS.entries()) {
    const celsius = touchBurnsFromC('metal', i)
    const from = passesAt(curves, celsius)
    if (from === null || (first && first.atS <= from + seconds)) continue
    first = { limit: 'touch', part: words, atS: from + seconds, celsius, contactS: seconds, ends: false }
  }
  return first
}

function endOf({ limit: { kind, atS, boardIndex } }: LimitRun, { boardNames }: PartsOnPlate): TimedLimit | null {
  const end = (limit: TimedLimit['limit'], part: string): TimedLimit => ({
    ...{ limit, part, atS, celsius: null, contactS: null, ends: true },
  })
  switch (kind) {
    case 'junction':
      return end('junction', `board ${boardNames[boardIndex ?? 0] ?? (boardIndex ?? 0) + 1}`)
    case 'drivers':
      return end('driver', 'the drivers switch off')
    case 'cells':
      return end('pack', 'the cells are too warm')
    case 'empty':
      return end('pack', 'the pack is empty')
    case 'supply':
      return end('pack', 'more than the supply can give')
    default:
      return null
  }
}
