// Quantities of a lamp that several rules need.
import { startRadiusMm, startZMm, topZMm } from '../lamp/front.ts'
import { type EmitterPlace, placeEmitters, spaceFromEmitter } from '../lamp/place.ts'
import type { EmitterType, Lamp, OpticType } from '../lamp/schema.ts'

/** An emitter's patch that light sets out from: where its middle stands, the height of its upper edge, its radius. */
export interface EmissionPoint extends Pick<EmitterPlace, 'boardIndex' | 'siteIndex' | 'emitter' | 'optic'> {
  xMm: number
  yMm: number
  zMm: number
  radiusMm: number
}

const known = new WeakMap<Lamp, readonly EmissionPoint[]>()

/** Every emitter with height and radius of its emitting surface. Cached for each document, since many rules need it. */
export function emissionPoints(lamp: Lamp): readonly EmissionPoint[] {
  let all = known.get(lamp)
  if (!all) {
    all = placeEmitters(lamp).map(pointOf)
    known.set(lamp, all)
  }
  return all
}

function pointOf(p: EmitterPlace): EmissionPoint {
  const { boardIndex, siteIndex, emitter, optic } = p
  const [xMm, yMm] = p.plain ? [p.xMm, p.yMm] : spaceFromEmitter(p, [0, 0, startZMm(emitter.heightMm, optic)])
  const radiusMm = startRadiusMm(emitter, optic)
  return { boardIndex, siteIndex, emitter, optic, xMm, yMm, zMm: topZMm(p), radiusMm }
}

/** Diameter about the axis that contains all emitting surfaces. */
export const arrayDiameterMm = (all: readonly EmissionPoint[]): number =>
  2 * all.reduce((most, s) => Math.max(most, Math.hypot(s.xMm, s.yMm) + s.radiusMm), 0)

export const sourceAreaMm2 = ({ source }: EmitterType): number =>
  source.shape === 'disc' ? (Math.PI / 4) * source.diameterMm ** 2 : source.widthMm * source.heightMm

/** Full width at half maximum of an emitter with its optic, degrees; null for tables and traced optics. */
export function fwhmDeg(emitter: EmitterType, optic: OpticType): number | null {
  if (optic.kind === 'collimator') return optic.shape === 'table' ? null : Math.max(optic.fwhmDeg, optic.fwhmYDeg ?? 0)
  if (optic.kind === 'reflector') return null
  const { profile, rays } = emitter
  if (rays) return null
  return profile.kind === 'cosine' || profile.kind === 'gaussian' ? profile.fwhmDeg : null
}

/** Whether some of the light is drawn from single rays: a sample, which makes a pattern of its own. */
export const shinesByRays = (lamp: Lamp): boolean =>
  placeEmitters(lamp).some(({ emitter, optic }) => emitter.rays !== undefined && optic.kind !== 'collimator')
