// What may be other than drawn in the built lamp, each as one number (or one board), and the lamp with it.
import { type ReadLamp, readLamp } from '../../lamp/read.ts'
import type { Lamp, Lens } from '../../lamp/schema.ts'
import type { Cause, CauseKey, CauseUnit, LightCauseKey } from './cause.ts'
import { darkCauses, darkParts, isDarkKey, withDark } from './dark.ts'
import { isRunningKey, withRunningCause } from './runningCauses.ts'

/** Causes that make the same light, so that a pair of them says nothing. */
const ALIKE: readonly (readonly CauseKey[])[] = [
  ['flux', 'meter'],
  ['lensX', 'arrayX'],
  ['lensY', 'arrayY'],
]
export const areAlike = (a: CauseKey, b: CauseKey): boolean =>
  a === b || ALIKE.some((of) => of.includes(a) && of.includes(b))

const FACTORS = [0.5, 0.7, 0.85, 1, 1.15, 1.4, 2] as const

/**
 * Causes that this lamp can have and these places can show. How far each is tried is our choice: what a workshop gets wrong. `seesY`: places lie off the
 * line y = 0, so that what moves light up or down shows; `seesAside`: 0 lies on the lamp's axis
 * and not where the beam is brightest, which would follow whatever moves the beam.
 */
export function causesOf(lamp: Lamp, { seesY, seesAside }: { seesY: boolean; seesAside: boolean }): Cause[] {
  const causes: Cause[] = [
    { key: 'flux', unit: 'factor', drawn: 1, tried: FACTORS, scales: true },
    { key: 'meter', unit: 'factor', drawn: 1, tried: FACTORS, scales: true },
    { key: 'wall', unit: 'factor', drawn: 1, tried: [0.9, 0.95, 1, 1.05, 1.1], movesWall: true },
  ]
  const { lens, tunnel } = lamp
  const about = (key: CauseKey, unit: CauseUnit, drawn: number, by: readonly number[], sideways = false): void => {
    const tried = by.map((d) => drawn + d).filter((value) => value === drawn || withCause(lamp, { key }, value).ok)
    if (tried.length > 2) causes.push({ key, unit, drawn, tried, ...(sideways && { sideways }) })
  }
  if (lens) {
    about('lensDistance', 'mm', lens.zMm, [-40, -24, -12, 0, 12, 24, 40])
    if (lens.kind !== 'solid')
      about(
        'focalLength',
        'mm',
        lens.focalMm,
        [-0.06, -0.03, 0, 0.03, 0.06].map((s) => s * lens.focalMm),
      )
    about('tiltY', 'deg', lens.tiltYDeg ?? 0, [-6, -3, 0, 3, 6], true)
    if (seesY) about('tiltX', 'deg', lens.tiltXDeg ?? 0, [-6, -3, 0, 3, 6], true)
    if (seesAside) about('lensX', 'mm', lens.decentreXMm ?? 0, [-12, -6, 0, 6, 12], true)
    if (seesY && seesAside) about('lensY', 'mm', lens.decentreYMm ?? 0, [-12, -6, 0, 6, 12], true)
  }
  if (tunnel && !tunnel.reflectanceByNm)
    about(
      'tunnel',
      'share',
      tunnel.reflectance,
      [-0.4, -0.2, -0.1, 0, 1 - tunnel.reflectance].filter((d, i) => i < 4 || d > 0.01),
    )
  const optic = lamp.opticTypes.find((o) => o.id === lamp.optic)
  if (optic?.kind === 'collimator' && optic.shape !== 'table')
    about(
      'optic',
      'deg',
      optic.fwhmDeg,
      [-0.4, -0.2, 0, 0.2, 0.4].map((s) => s * optic.fwhmDeg),
    )
  if (seesAside) about('arrayX', 'mm', 0, [-12, -6, 0, 6, 12], true)
  if (seesY && seesAside) about('arrayY', 'mm', 0, [-12, -6, 0, 6, 12], true)
  return [...causes, ...darkCauses(lamp)]
}

/** Which cause, at which value. */
export interface CauseAt {
  key: CauseKey
  board?: string | undefined
  string?: number | undefined
}

/** A copy of the lamp with a cause at a value, as validated as any other; scale and meter leave it as it is, but for flux, which is the emitters'. */
export function withCause(lamp: Lamp, cause: CauseAt, value: number): ReadLamp {
  const { key } = cause
  if (isRunningKey(key)) return withRunningCause(lamp, key, value)
  if (isDarkKey(key)) return readLamp(value > 0 ? withDark(lamp, darkParts(lamp, cause)) : lamp)
  return readLamp(changed(lamp, key, Number(value.toPrecision(9))))
}

function changed(lamp: Lamp, key: LightCauseKey, value: number): Lamp {
  const lens = (part: Partial<Lens>): Lamp => (lamp.lens ? { ...lamp, lens: { ...lamp.lens, ...part } as Lens } : lamp)
  switch (key) {
    case 'flux':
      return { ...lamp, emitterTypes: lamp.emitterTypes.map((e) => ({ ...e, fluxLm: e.fluxLm * value })) }
    case 'meter':
      return lamp
    case 'wall':
      return withWall(lamp, value)
    case 'lensDistance':
      return lens({ zMm: value })
    case 'focalLength':
      return lens({ focalMm: value } as Partial<Lens>)
    case 'tiltX':
      return lens({ tiltXDeg: value })
    case 'tiltY':
      return lens({ tiltYDeg: value })
    case 'lensX':
      return lens({ decentreXMm: value })
    case 'lensY':
      return lens({ decentreYMm: value })
    case 'tunnel':
      return lamp.tunnel ? { ...lamp, tunnel: { ...lamp.tunnel, reflectance: value } } : lamp
    case 'optic':
      return {
        ...lamp,
        opticTypes: lamp.opticTypes.map((o) =>
          o.id === lamp.optic && o.kind === 'collimator' ? { ...o, fwhmDeg: value } : o,
        ),
      }
    case 'arrayX':
      return { ...lamp, boards: lamp.boards.map((b) => ({ ...b, xMm: b.xMm + value })) }
    case 'arrayY':
      return { ...lamp, boards: lamp.boards.map((b) => ({ ...b, yMm: b.yMm + value })) }
    default:
      return lamp
  }
}

/** The wall's distance is the readings', not the lamp's. */
function withWall(lamp: Lamp, factor: number): Lamp {
  if (!lamp.readings) return lamp
  const sets = lamp.readings.sets.map((set) =>
    set.kind === 'line' || set.kind === 'grid'
      ? { ...set, distanceM: Number((set.distanceM * factor).toPrecision(6)) }
      : set,
  )
  return { ...lamp, readings: { ...lamp.readings, sets } }
}
