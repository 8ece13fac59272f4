// Emitters whose light is the single rays of a file: rays that start in the board or away from the emitter, light that runs down, and what such
// a source can't give.

import { placeEmitters } from '../../lamp/place.ts'
import { eachRay, farthestMm, rayCount, raysOf } from '../../lamp/rays.ts'
import type { EmitterRays, EmitterType, Lamp } from '../../lamp/schema.ts'
import { inThousands } from '../../num/thousands.ts'
import type { Finding } from '../finding.ts'
import { counted, mm, percent } from '../words.ts'

/** Shares of the light that are worth a word: starting under the board, running down. */
const UNDER = 1e-3
const DOWN = 0.2
/** Beyond so many times the package's radius a ray does not start at the emitter. */
const AWAY = 3

export function raySource(lamp: Lamp): Finding[] {
  const done = new Set<EmitterType>()
  const findings: Finding[] = []
  for (const { emitter, optic, boardIndex, siteIndex } of placeEmitters(lamp)) {
    const { rays } = emitter
    if (!rays || optic.kind === 'collimator' || done.has(emitter)) continue
    done.add(emitter)
    const place = { kind: 'emitter', boardIndex, siteIndex } as const
    findings.push(
      ...[underBoard, away, downwards, bySample].flatMap((rule) => rule(emitter, rays)).map((f) => ({ ...f, place })),
    )
  }
  return findings
}

type Said = Omit<Finding, 'place'>

function shareOfRays(rays: EmitterRays, counts: (z: number, dz: number) => boolean): number {
  let [part, all] = [0, 0]
  for (const { z, dz, weight } of eachRay(raysOf(rays))) {
    all += weight
    if (counts(z, dz)) part += weight
  }
  return all > 0 ? part / all : 0
}

function underBoard({ name, heightMm }: EmitterType, rays: EmitterRays): Said[] {
  const share = shareOfRays(rays, (z) => z < -heightMm)
  if (share < UNDER) return []
  return [
    {
      rule: 'rays-under-board',
      severity: 'warning',
      title: `${percent(share)} of the light of “${name}” starts under its board.`,
      why: `Its file has rays that start more than ${mm(heightMm)} under the emitting surface. They are traced as blocked. The lamp then gives less than the emitter’s flux.`,
      cure: 'Load the file again and move its rays onto the emitter, or raise the emitting surface.',
    },
  ]
}

function away({ name, bodyMm }: EmitterType, rays: EmitterRays): Said[] {
  const farMm = farthestMm(rays)
  if (farMm <= (AWAY * bodyMm) / 2) return []
  return [
    {
      rule: 'rays-away',
      severity: 'warning',
      title: `Rays of “${name}” start up to ${mm(farMm)} from it; its package measures ${mm(bodyMm)}.`,
      why: 'The file may have another origin, another unit than mm, or be of a whole lamp. Light that starts beyond a wall or a lens has not met them.',
      cure: 'Load the file again and move its rays onto the emitter; see whether its lengths are mm.',
    },
  ]
}

function downwards({ name }: EmitterType, rays: EmitterRays): Said[] {
  const share = shareOfRays(rays, (_, dz) => dz < 0)
  if (share < DOWN) return []
  return [
    {
      rule: 'rays-down',
      severity: 'warning',
      title: `${percent(share)} of the light of “${name}” runs down onto its board.`,
      why: 'The z axis of a ray file is taken as the emitter’s axis, up from the board. A file that looks another way shines into the face.',
      cure: 'Load a file whose z axis is the emitter’s axis.',
    },
  ]
}

function bySample({ name }: EmitterType, rays: EmitterRays): Said[] {
  const count = rayCount(rays)
  const all = rays.fileRays === count
  const words = `${inThousands(count)} ${all ? 'rays' : `of the ${inThousands(rays.fileRays)} rays`}`
  return [
    {
      rule: 'rays-sample',
      severity: 'note',
      title: `The light of “${name}” is drawn from ${words} of a file: no figure is known better than by these.`,
      why: `Each batch of a trace draws from its own sixteenth of them, so that ± holds their chance, and more traced rays do not make it smaller without end. Such light is not traced backwards: axis, peak and middle of the target are known by forward rays alone, and a graphics device leaves the lamp to the processor. For eyes the emitter counts as bright as the densest ${counted(64, 'ray')} of it, upper end.`,
      cure: 'Where an axis must be known well, compare with the emitter’s profile: take the rays out.',
    },
  ]
}
