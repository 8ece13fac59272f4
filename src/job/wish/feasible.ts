// What no lamp can do, whatever its optics: light that the source can't give through an opening of that size, lumens that the emitters don't
// have, light that the pack holds no energy for. Each bound takes the emitter at its best, cool and at its most favourable current, so that what
// it forbids is forbidden.
import type { EmitterType } from '../../lamp/schema.ts'
import { EMITTERS, emitterById } from '../../library/emitters.ts'
import { linear } from '../../num/interpolate.ts'
import { packWh } from '../start/supply.ts'
import { targetDeg, type Wish, wantedCd } from './wish.ts'

/** Best share of the light that passes a plate of acrylic, n = 1.49, twice (1 − R), R = ((n − 1)/(n + 1))² (Fresnel's equations). */
export const LENS_PASSES = (1 - ((1.49 - 1) / (1.49 + 1)) ** 2) ** 2
/** The coolest junction that the bounds grant, °C. */
const COOL_C = 25

export interface Forbidden {
  /** Luminance × opening; lumens on the target; energy in the pack. */
  by: 'luminance' | 'flux' | 'energy'
  /** cd, lm or Wh. */
  wanted: number
  most: number
  /** Each alone would allow it. */
  changes: readonly Change[]
}

export type Change =
  | { what: 'widthMm' | 'emitters' | 'cellsInParallel'; atLeast: number }
  | { what: 'candela' | 'lux' | 'minutes'; atMost: number }
  | { what: 'emitter'; id: string }

const table = <T>(rows: readonly T[], x: (row: T) => number, y: (row: T) => number, at: number): number =>
  rows.length === 0 ? 1 : linear(rows.map(x), rows.map(y), at)

const coolFactor = (e: EmitterType) =>
  table(
    e.fluxByJunction,
    (r) => r.junctionC,
    (r) => r.factor,
    COOL_C,
  )

export const fluxFactor = (e: EmitterType, currentA: number): number =>
  e.fluxByCurrent.length === 0
    ? currentA / e.ratedCurrentA
    : table(
        e.fluxByCurrent,
        (r) => r.currentA,
        (r) => r.factor,
        currentA,
      )

/** Lumens of one emitter at its greatest current, its junction at 25 °C. */
export const mostLm = (e: EmitterType): number => e.fluxLm * fluxFactor(e, e.maxCurrentA) * coolFactor(e)

const sourceMm2 = ({ source }: EmitterType): number =>
  source.shape === 'disc' ? (Math.PI / 4) * source.diameterMm ** 2 : source.widthMm * source.heightMm

/**
 * Luminance of the emitting surface at its brightest, cd/mm²: L = Φ / (π A), of a surface that shines as a Lambertian one (Lambert; Φ = π L A).
 * No optic makes it brighter (conservation of étendue: Welford, Winston, High Collection Nonimaging Optics, 1989).
 */
export const mostLuminance = (e: EmitterType): number => mostLm(e) / (Math.PI * sourceMm2(e))

/** Lumens per watt at the current, of those of its table, where it gives most, its junction at 25 °C. */
export function mostEfficacy(e: EmitterType): number {
  const colder = table(
    e.forwardByJunction ?? [],
    (r) => r.junctionC,
    (r) => r.factor,
    COOL_C,
  )
  const each = e.forward.map(
    ({ currentA, volts }) =>
      (e.fluxLm * fluxFactor(e, currentA) * coolFactor(e)) / (volts * Math.max(1, colder) * currentA),
  )
  return Math.max(...each)
}

/** What may be used: the class at hand, or any of the library. */
const emittersFor = ({ emitter }: Wish): readonly EmitterType[] => (emitter ? [emitterById(emitter)] : EMITTERS)

const best = (emitters: readonly EmitterType[], of: (e: EmitterType) => number) => Math.max(...emitters.map(of))

/** All that forbids the wish; none: physics allows it, which doesn't say that a lamp of the kinds here does it. */
export function forbiddenBy(wish: Wish): Forbidden[] {
  return [byLuminance(wish), byFlux(wish), byEnergy(wish)].filter((f) => f !== null)
}

/** I ≤ L · A · τ through a round opening as wide as the lamp may be. */
function byLuminance(wish: Wish): Forbidden | null {
  if (wish.widthMm === undefined) return null
  const wanted = wantedCd(wish)
  const perMm2 = best(emittersFor(wish), mostLuminance) * LENS_PASSES
  const most = perMm2 * (Math.PI / 4) * wish.widthMm ** 2
  if (wanted <= most) return null
  const needsMm = Math.sqrt((4 * wanted) / (Math.PI * perMm2))
  const brighter = EMITTERS.find(
    (e) => mostLuminance(e) * LENS_PASSES * (Math.PI / 4) * (wish.widthMm ?? 0) ** 2 >= wanted,
  )
  return {
    ...{ by: 'luminance', wanted, most },
    changes: [
      { what: 'widthMm', atLeast: needsMm },
      lessLight(wish, most / wanted),
      ...(brighter && wish.emitter ? [{ what: 'emitter' as const, id: brighter.id }] : []),
    ],
  }
}

/** The same share less of what was wished for. */
const lessLight = ({ candela, lux }: Wish, share: number): Change =>
  candela === undefined ? { what: 'lux', atMost: (lux ?? 0) * share } : { what: 'candela', atMost: candela * share }

/** Lumens that must fall on the target: its mean illuminance times its area; null where no size is wished. */
function targetLm(wish: Wish): number | null {
  const { sizeM, distanceM } = wish
  if (targetDeg(wish) === null || sizeM === undefined || distanceM === undefined) return null
  return (wantedCd(wish) / distanceM ** 2) * sizeM ** 2
}

/** Candela alone say nothing of the target's mean. */
const meanWished = (wish: Wish) => (wish.lux === undefined ? null : targetLm(wish))

/** E · A ≤ n · Φ. */
function byFlux(wish: Wish): Forbidden | null {
  const wanted = meanWished(wish)
  if (wanted === null || wish.emitters === undefined) return null
  const each = best(emittersFor(wish), mostLm)
  const most = wish.emitters * each
  if (wanted <= most) return null
  return {
    ...{ by: 'flux', wanted, most },
    changes: [{ what: 'emitters', atLeast: Math.ceil(wanted / each) }, lessLight(wish, most / wanted)],
  }
}

/** P · t ≤ E, with P the lumens on the target by the best lumens per watt. */
function byEnergy(wish: Wish): Forbidden | null {
  const lumens = meanWished(wish)
  const { pack, minutes } = wish
  if (lumens === null || pack === undefined || minutes === undefined) return null
  const wanted = ((lumens / best(emittersFor(wish), mostEfficacy)) * minutes) / 60
  const most = packWh(pack)
  if (wanted <= most) return null
  return {
    ...{ by: 'energy', wanted, most },
    changes: [
      { what: 'minutes', atMost: (minutes * most) / wanted },
      { what: 'cellsInParallel', atLeast: Math.ceil((pack.parallel * wanted) / most) },
      lessLight(wish, most / wanted),
    ],
  }
}
