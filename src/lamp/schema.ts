// The lamp document, whole. Types are inferred; nobody writes them twice.
import { z } from 'zod'
import { LIMITS } from './limits.ts'
import * as part from './parts.ts'

export const LAMP_VERSION = 1

export const lampSchema = z.strictObject({
  format: z.literal('lamp'),
  version: z.literal(LAMP_VERSION),
  name: z.string().min(1).max(120),
  note: z.string().max(LIMITS.textChars),
  target: part.target,
  emitterTypes: z.array(part.emitterType).min(1).max(LIMITS.types),
  opticTypes: z.array(part.opticType).min(1).max(LIMITS.types),
  boardTypes: z.array(part.boardType).min(1).max(LIMITS.types),
  /** Optic of every emitter that has no other. */
  optic: part.id,
  face: part.face,
  boards: z.array(part.board).max(LIMITS.boards),
  tunnel: part.tunnel.nullable(),
  lens: part.lens.nullable(),
  reading: part.reading,
  heat: part.heat,
})

export type Lamp = z.infer<typeof lampSchema>
export type EmitterType = z.infer<typeof part.emitterType>
export type OpticType = z.infer<typeof part.opticType>
export type BoardType = z.infer<typeof part.boardType>
export type Board = z.infer<typeof part.board>
export type Site = z.infer<typeof part.site>
export type KeepOut = z.infer<typeof part.keepOut>
export type Face = z.infer<typeof part.face>
export type Tunnel = z.infer<typeof part.tunnel>
export type Lens = z.infer<typeof part.lens>
export type FresnelLens = Extract<Lens, { kind: 'fresnel' }>
export type SolidLens = Extract<Lens, { kind: 'solid' }>
export type LensMaterial = FresnelLens['material']
export type Target = z.infer<typeof part.target>
export type Profile = z.infer<typeof part.profile>
export type Spectrum = z.infer<typeof part.spectrum>
export type Reading = z.infer<typeof part.reading>
export type Heat = z.infer<typeof part.heat>
