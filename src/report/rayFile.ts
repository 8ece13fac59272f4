// A ray file as an emitter's source, in words: what it holds, what the lamp keeps of it, what to see to.

import type { RaySource } from '../job/rays/emitterRays.ts'
import { farthestMm, rayCount } from '../lamp/rays.ts'
import type { EmitterRays, EmitterType } from '../lamp/schema.ts'
import { allInSystem, inEither, sizeNumber, sizeText } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { short, significant, whole } from './numbers.ts'

const percent = (share: number) => `${significant(100 * share, 2)} %`

const size = (mm: number): string => sizeText(short(mm), mm)

/** Label and value of each fact. */
export function rayFileRows({ facts }: RaySource, system: UnitSystem = 'metric'): [string, string][] {
  const { fileRays, rays, fileLm, fileW, fromMm, toMm } = facts
  const flux = [fileLm === null ? null : `${short(fileLm)} lm`, fileW === null ? null : `${short(fileW)} W`]
  const [x, y, z] = toMm
  const tos = [
    ['x', x],
    ['y', y],
    ['z', z],
  ] as const
  const spans = fromMm.map(
    (from, i) =>
      `${tos[i]?.[0]} ${sizeNumber(short(from), from)} to ${sizeNumber(short(tos[i]?.[1] ?? 0), tos[i]?.[1] ?? 0)}`,
  )
  return allInSystem(
    [
      ['Rays in the file', whole(fileRays)],
      ['Rays in the lamp', rays === fileRays ? 'all of them' : whole(rays)],
      ['Flux in the file', flux.filter((f) => f !== null).join(', ') || 'not said'],
      [inEither('They start at, mm', 'They start at, in'), spans.join('; ')],
      ['Wavelengths', WAVELENGTHS[facts.wavelengths]],
    ],
    system,
  )
}

const WAVELENGTHS = {
  eachRay: 'each ray has its own',
  single: 'one for all rays',
  none: 'none: the emitter’s spectrum counts',
} as const

/** Said where no emitter of the type is bare or in a cup. */
export const HIDDEN_RAYS =
  'All emitters of this type stand under collimators by data sheet, which put their own light in place: the rays are traced where an emitter is bare or in a reflector cup.'

/** What sampling costs, what was left out, what looks wrong for an emitter of this type. */
export function rayFileNotes(
  { facts, notes }: RaySource,
  type: Pick<EmitterType, 'bodyMm' | 'heightMm'>,
  system: UnitSystem = 'metric',
): string[] {
  const { fileRays, rays, tenthWithin, outsideShare, downShare, middleMm, fromMm } = facts
  const farMm = farthestMm(facts)
  const sampled =
    rays === fileRays
      ? `A part of the light that holds a tenth of it is known within ± ${percent(tenthWithin)} by so many rays.`
      : `The lamp keeps ${whole(rays)} rays, drawn by weight, so that its file stays small. A part of the light that holds a tenth of it is then known within ± ${percent(tenthWithin)}.`
  return allInSystem(
    [
      sampled,
      ...(outsideShare > 0
        ? [
            `${percent(outsideShare)} of its light lies outside 380 to 780 nm and is left out: neither light nor heat of it is computed.`,
          ]
        : []),
      ...(downShare > 0.01 ? [`${percent(downShare)} of its light runs down onto the board.`] : []),
      ...(fromMm[2] < -type.heightMm
        ? [
            `Rays start down to ${size(-fromMm[2])} under the emitting surface, which is ${size(type.heightMm)} above the face: those under the face are blocked.`,
          ]
        : []),
      ...(farMm > 1.5 * type.bodyMm
        ? [
            `Rays start up to ${size(farMm)} from the emitter, whose package measures ${size(type.bodyMm)}. Are its lengths mm, and is its origin the emitter?`,
          ]
        : []),
      ...(middleMm.some((v) => Math.abs(v) >= 0.01)
        ? [
            `Their middle is ${middleMm.map((v) => sizeNumber(short(v), v)).join(', ')} ${inEither('mm', 'in')} (x, y, lowest z) from the emitter.`,
          ]
        : []),
      ...notes,
    ],
    system,
  )
}

/** One line for an emitter's part. */
export function raysLine(rays: EmitterRays): string {
  const count = rayCount(rays)
  const of = count === rays.fileRays ? `all ${whole(count)} rays` : `${whole(count)} of ${whole(rays.fileRays)} rays`
  return `${of} of ${rays.fileName}${rays.fileLm === null ? '' : `, which has ${short(rays.fileLm)} lm`}`
}
