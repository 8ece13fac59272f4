// The lamp's front: the plane that distances to a target and clear distances are measured from.

import { foremostZMm, widestReachMm } from './body.ts'
import { faceReachMm } from './facePlate.ts'
import { type EmitterPlace, placeEmitters } from './place.ts'
import { farthestAcrossMm } from './rays.ts'
import type { Lamp } from './schema.ts'
import { aboutSectionMm } from './section.ts'

/** z of the foremost part: lens, cover or film, mouth of the tunnel, or the top of the emitters and their optics. */
export function frontZMm(lamp: Lamp): number {
  let front = 0
  for (const place of placeEmitters(lamp)) front = Math.max(front, topZMm(place))
  if (lamp.tunnel) front = Math.max(front, lamp.tunnel.zOutMm)
  front = Math.max(front, foremostZMm(lamp) ?? front)
  return front
}

/** Farthest from the axis that light leaves by, mm: of lenses, covers and films as they stand, else of the tunnel's mouth, else of the face, to corners. */
export function apertureReachMm(lamp: Lamp): number {
  const { tunnel, face } = lamp
  return widestReachMm(lamp) ?? (tunnel ? aboutSectionMm(tunnel, tunnel.zOutMm) : faceReachMm(face))
}

/** Greatest height above the face that an emitter's light sets out from: of a tilted one the upper edge of the patch. */
export function topZMm({ emitter, optic, plain, baseZMm, rotation }: EmitterPlace): number {
  const zMm = Math.max(startZMm(emitter.heightMm, optic), raysTopMm(emitter, optic))
  if (plain) return zMm
  return baseZMm + zMm * rotation[8] + startRadiusMm(emitter, optic) * Math.hypot(rotation[6], rotation[7])
}

type Optic = Lamp['opticTypes'][number]

/** Height at which an emitter's light sets out: the exit of its optic, or the emitting surface itself. */
export function startZMm(emitterHeightMm: number, optic: Optic): number {
  if (optic.kind === 'collimator') return Math.max(emitterHeightMm, optic.heightMm)
  if (optic.kind === 'bare') return emitterHeightMm
  // A paraboloid with its focus on the emitter ends r²/4f − f above it.
  const above = optic.exitDiameterMm ** 2 / (16 * optic.focalMm) - optic.focalMm
  return emitterHeightMm + Math.max(0, above - optic.shiftZMm)
}

type Emitter = Lamp['emitterTypes'][number]

/** Height that single rays of an emitter start at, at the most; 0 where its light isn't theirs. */
function raysTopMm({ heightMm, rays }: Emitter, optic: Optic): number {
  return rays && optic.kind !== 'collimator' ? heightMm + rays.toMm[2] : 0
}

/** Radius of the patch that an emitter's light sets out from; of single rays about all of their starts. */
export function startRadiusMm({ source, rays }: Pick<Emitter, 'source' | 'rays'>, optic: Optic): number {
  if (optic.kind !== 'bare') return optic.exitDiameterMm / 2
  if (rays) return farthestAcrossMm(rays)
  return source.shape === 'disc' ? source.diameterMm / 2 : Math.hypot(source.widthMm, source.heightMm) / 2
}
