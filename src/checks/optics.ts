// Quantities of a lamp that several rules need.
import { startRadiusMm, startZMm, topZMm } from '../lamp/front.ts'
import { type EmitterPlace, placeEmitters, spaceFromEmitter } from '../lamp/place.ts'
import type { EmitterType, Lamp, OpticType } from '../lamp/schema.ts'

export interface EmissionPoint extends EmitterPlace {
  zMm: number
  radiusMm: number
}

const known = new WeakMap<Lamp, readonly EmissionPoint[]>()

/** Every emitter with height and radius of its emitting surface. Cached for each document, since many rules need it. */
export function emissionPoints(lamp: Lamp): readonly EmissionPoint[] {
  let all = known.get(lamp)
  if (!all) {
    all = placeEmitters(lamp).map((p) => ({
      ...p,
      ...topOf(p),
      radiusMm: startRadiusMm(p.emitter.source, p.optic),
    }))
    known.set(lamp, all)
  }
  return all
}

/** Height of the patch that the light sets out from (of a tilted one its upper edge), and where its middle stands. */
function topOf(p: EmitterPlace): Pick<EmissionPoint, 'xMm' | 'yMm' | 'zMm'> {
  const zMm = topZMm(p)
  if (p.plain) return { xMm: p.xMm, yMm: p.yMm, zMm }
  const [xMm, yMm] = spaceFromEmitter(p, [0, 0, startZMm(p.emitter.heightMm, p.optic)])
  return { xMm, yMm, zMm }
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
  const { profile } = emitter
  return profile.kind === 'cosine' || profile.kind === 'gaussian' ? profile.fwhmDeg : null
}
