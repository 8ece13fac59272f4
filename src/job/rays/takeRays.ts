// A lamp with a ray file as the source of one of its emitter types, and without it again.

import { withLightNote } from '../../lamp/emitterNote.ts'
import { emitterType } from '../../lamp/parts.ts'
import { placeEmitters } from '../../lamp/place.ts'
import type { EmitterType, Lamp } from '../../lamp/schema.ts'
import { inThousands } from '../../num/thousands.ts'
import { centredRays, type RaySource } from './emitterRays.ts'

export interface TakeRays {
  /** Moves the middle of their start onto the emitter. */
  centred: boolean
  /** The file's lumens in place of the emitter's flux, as rated. */
  flux: boolean
}

/** Why a file's lumens can't be an emitter's flux; null: they can. */
export function fluxFault(fileLm: number | null): string | null {
  if (fileLm === null) return 'It does not say how many lumens it has.'
  const { minValue, maxValue } = emitterType.shape.fluxLm
  const [least, most] = [minValue ?? 0, maxValue ?? Infinity]
  return fileLm >= least && fileLm <= most
    ? null
    : `An emitter’s flux lies between ${least} and ${inThousands(most)} lm.`
}

const changed = (lamp: Lamp, id: string, change: (type: EmitterType) => EmitterType): Lamp => ({
  ...lamp,
  emitterTypes: lamp.emitterTypes.map((type) => (type.id === id ? change(type) : type)),
})

/** Source, profile and spectrum become what comes nearest to the rays: what reads an emitter's size and width reads those. */
export function withRays(lamp: Lamp, id: string, loaded: RaySource, { centred, flux }: TakeRays): Lamp {
  const { rays, source, profile, spectrum, facts } = loaded
  return changed(lamp, id, (type) => ({
    ...type,
    ...(source && { source }),
    ...(profile && { profile }),
    ...(spectrum && { spectrum }),
    ...(flux && facts.fileLm !== null && fluxFault(facts.fileLm) === null && { fluxLm: facts.fileLm }),
    rays: centred ? centredRays(rays, facts.middleMm) : rays,
    note: withLightNote(type.note, `of the rays of ${rays.fileName}.`),
  }))
}

/** The light is then that of source, profile and spectrum, which come near to the rays that are gone. */
export const withoutRays = (lamp: Lamp, id: string): Lamp =>
  changed(lamp, id, (type) => {
    const { rays: _, ...rest } = type
    return rest
  })

/** Whether every emitter of a type has an optic by data sheet, which puts its own light in place of the emitter's. */
export function underCollimators(lamp: Lamp, id: string): boolean {
  const places = placeEmitters(lamp).filter((p) => p.emitter.id === id)
  return places.length > 0 && places.every((p) => p.optic.kind === 'collimator')
}
