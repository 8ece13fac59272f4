// What a run passes on its way, in the order of time: not only what ends it. One list for every line, rule and print.
import { CONTACTS, touchBurnsFromC } from '../library/contactBurns.ts'
import { OPTIC_LIMIT } from '../library/thresholds.ts'

/** Curves of one run, one value for each moment. */
export interface LimitCurves {
  tS: ArrayLike<number>
  plateMaxC: ArrayLike<number>
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
}

export interface TimedLimit {
  limit: 'junction' | 'optic' | 'insulation' | 'touch' | 'driver' | 'pack'
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
export function passesAt({ tS, plateMaxC }: LimitCurves, limitC: number): number | null {
  let before: { s: number; c: number } | null = null
  for (let i = 0; i < tS.length; i++) {
    const now = { s: tS[i]!, c: plateMaxC[i]! }
    if (now.c > limitC)
      return before ? before.s + ((limitC - before.c) / (now.c - before.c)) * (now.s - before.s) : now.s
    before = now
  }
  return null
}

/**
 * Every limit that a run passes, the earliest first (s, °C): plastic optics and leads at the plate's hottest place, the
 * earliest burn by touch, drivers, pack, junctions. Limits of the optics: library/thresholds.ts; of a touch:
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
  const { letGoFromS, sagsFromS } = run
  if (sagsFromS !== null)
    found.push({ ...none, limit: 'driver', part: 'a driver can’t hold its current', atS: sagsFromS })
  if (letGoFromS !== null && (run.limit.kind !== 'drivers' || letGoFromS < run.limit.atS))
    found.push({ ...none, limit: 'driver', part: 'a driver lets go', atS: letGoFromS })
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
      return end('driver', 'the drivers let go')
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
