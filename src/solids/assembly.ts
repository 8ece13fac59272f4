// The whole lamp as named parts where they stand: the lamp's frame, mm, z towards the target.
import type { Lamp } from '../lamp/schema.ts'
import { boardParts } from './boardsOnFace.ts'
import { elementParts } from './elementBodies.ts'
import { facePlateSolid, sinkSolid } from './facePlate.ts'
import { lensRingOf } from './lensRing.ts'
import { AT_ORIGIN, type Place, type Solid } from './shape.ts'
import { tunnelParts } from './tunnelWall.ts'

export type Material = 'metal' | 'board' | 'package' | 'light' | 'optic' | 'wall' | 'clear' | 'film' | 'printed'

export interface AssemblyPart {
  /** Its own: no two are alike. */
  name: string
  material: Material
  /** Parts of one kind have the same object. */
  solid: Solid
  place: Place
}

export type Group = 'face' | 'sink' | 'boards' | 'tunnel' | 'elements' | 'lens-ring'

export const GROUPS: readonly Group[] = ['face', 'sink', 'boards', 'tunnel', 'elements', 'lens-ring']

const MAKERS: Record<Group, (lamp: Lamp) => AssemblyPart[]> = {
  face: (lamp) => [{ name: 'Face plate', material: 'metal', solid: facePlateSolid(lamp), place: AT_ORIGIN }],
  sink: (lamp) => {
    const solid = sinkSolid(lamp)
    return solid ? [{ name: 'Sink', material: 'metal', solid, place: AT_ORIGIN }] : []
  },
  boards: boardParts,
  tunnel: (lamp) => tunnelParts(lamp).map((part) => ({ ...part, material: 'wall', place: AT_ORIGIN })),
  elements: (lamp) =>
    elementParts(lamp).map(({ name, piece, solid, place }) => ({
      ...{ name, solid, place },
      material: piece.kind === 'diffuser' ? 'film' : 'clear',
    })),
  'lens-ring': (lamp) => {
    const made = lensRingOf(lamp)
    if (!made.ok) return []
    const { solid, place } = made.ring
    return [{ name: 'Lens ring', material: 'printed', solid, place }]
  },
}

/** Parts of some groups; names that two parts would share are counted. */
export function assemblyParts(lamp: Lamp, groups: readonly Group[] = GROUPS): AssemblyPart[] {
  const taken = new Set<string>()
  return groups
    .flatMap((group) => MAKERS[group](lamp))
    .map((part) => {
      let name = part.name
      for (let n = 2; taken.has(name); n++) name = `${part.name} (${n})`
      taken.add(name)
      return { ...part, name }
    })
}
