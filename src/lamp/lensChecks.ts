// What single numbers of a lens can't say alone: grooves, focus and curve over its whole piece, its place before tunnel and face.
import { farthestWords, pieceNearMm, pieceReachMm } from './assembly.ts'
import { conicSag, lensSpan } from './body.ts'
import { LIMITS } from './limits.ts'
import { findLensMaterialFaults } from './materialChecks.ts'
import type { FresnelLens, Lamp, Lens } from './schema.ts'

export const SHORTEST_FOCUS = 0.05

/** Of the lamp's lens, its place included unless it is tilted (assemblyChecks.ts). */
export function findLensFaults(lamp: Lamp): string[] {
  const { lens, tunnel } = lamp
  if (!lens) return []
  const why: string[] = []
  const [nearZ] = lensSpan(lens)
  if (tunnel && nearZ < tunnel.zOutMm)
    why.push(`lens.zMm: the lens reaches back to ${round(nearZ)} mm, into the tunnel that ends at ${tunnel.zOutMm} mm.`)
  if (nearZ <= 0) why.push(`lens.zMm: the lens reaches back to ${round(nearZ)} mm, into the face.`)
  return [...why, ...findOneLensFaults(lens, 'lens')]
}

/** What is wrong with a lens wherever it stands; rings, curve and focus are counted to its farthest point from the optical axis. */
export function findOneLensFaults(lens: Lens, where: string): string[] {
  const why: string[] = []
  const reach = pieceReachMm(lens)
  if (lens.kind === 'fresnel') why.push(...findGrooveFaults(lens, reach, where))
  why.push(...findLensMaterialFaults(lens, where))
  if (lens.kind === 'solid') {
    const sag = conicSag(reach, lens.radiusMm, lens.conic)
    if (!(sag < lens.thicknessMm))
      why.push(
        `${where}.thicknessMm: ${lens.thicknessMm} does not fit; a curve of ${lens.radiusMm} mm over ${round(2 * reach)} mm needs more than ${Number.isFinite(sag) ? roundUp(sag) : 'it can have'}: nothing is left at ${farthestWords(lens)}.`,
      )
  }
  return why
}

function findGrooveFaults(lens: FresnelLens, reach: number, where: string): string[] {
  const why: string[] = []
  const { pitchMm, focalMm, diameterMm } = lens
  if (reach / pitchMm > LIMITS.rings) why.push(`${where}.pitchMm: ${pitchMm} gives over ${LIMITS.rings} grooves.`)
  const near = pieceNearMm(lens)
  if (near > 0 && pitchMm * Math.floor(reach / pitchMm + 1e-9) <= near)
    why.push(
      `${where}.pitchMm: ${pitchMm} does not fit; no whole groove lies on the piece: expected at most ${roundDown(reach - near)}.`,
    )
  // Light in the grooves of a shorter one turns back and forth without end (tests/fuzz/extreme.test.ts).
  const whole = isCentred(lens) ? diameterMm : 2 * reach
  if (focalMm < SHORTEST_FOCUS * whole) {
    const of = isCentred(lens) ? 'the diameter' : `the ${round(whole)} mm of the lens that it is cut from`
    why.push(
      `${where}.focalMm: ${focalMm} does not fit; expected at least ${roundUp(SHORTEST_FOCUS * whole)}, a twentieth of ${of}.`,
    )
  }
  return why
}

const isCentred = ({ centreXMm, centreYMm, aperture }: FresnelLens): boolean =>
  !centreXMm && !centreYMm && aperture !== 'rectangle'

const round = (x: number) => Math.round(x * 100) / 100
/** A limit that is named must itself be allowed. */
const roundUp = (x: number) => Math.ceil(x * 100 - 1e-9) / 100
const roundDown = (x: number) => Math.floor(x * 100 + 1e-9) / 100
