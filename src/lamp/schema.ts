// The lamp document, whole. Types are inferred; nobody writes them twice.

import { danger } from './danger.ts'
import { element, lens } from './lens.ts'
import { LIMITS } from './limits.ts'
import * as part from './parts.ts'
import * as supply from './power.ts'
import type { emitterRays } from './rays.ts'
import { readings } from './readings.ts'
import { tolerances } from './tolerances.ts'
import { tunnel } from './tunnel.ts'
import { type boardHole, workshop } from './workshop.ts'
import * as z from './zod.ts'

export const LAMP_VERSION = 3

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
  /** Every optic without an aim of its own looks at this point; absent: along its board's normal. */
  aimAt: part.aimAt.optional(),
  face: part.face,
  boards: z.array(part.board).max(LIMITS.boards),
  tunnel: tunnel.nullable(),
  lens: lens.nullable(),
  /** Further lenses, covers and films, in any order: light meets them, and the lens, by their z. */
  elements: z.array(element).max(LIMITS.elements).optional(),
  reading: part.reading,
  heat: part.heat,
  /** What carries the heat away; absent: a bare plate, taken as typical. */
  cooling: supply.cooling.optional(),
  /** What it runs on; absent: taken as typical. */
  power: supply.power.optional(),
  powerUp: supply.powerUp.optional(),
  /** Input of the danger sheet; absent: published thresholds and its own cases. */
  danger: danger.optional(),
  /** Cutter, sheets, printer, paper, fasteners, prices; absent: typical. */
  workshop: workshop.optional(),
  /** How far what is built may lie from what is drawn; absent: typical. */
  tolerances: tolerances.optional(),
  /** What was measured on the built lamp. */
  readings: readings.optional(),
})

export type Lamp = z.infer<typeof lampSchema>
export type EmitterType = z.infer<typeof part.emitterType>
export type EmitterRays = z.infer<typeof emitterRays>
export type OpticType = z.infer<typeof part.opticType>
export type BoardType = z.infer<typeof part.boardType>
export type Board = z.infer<typeof part.board>
export type Aim = z.infer<typeof part.aim>
export type Site = z.infer<typeof part.site>
export type KeepOut = z.infer<typeof part.keepOut>
export type Face = z.infer<typeof part.face>
export type Tunnel = z.infer<typeof tunnel>
export type Joint = NonNullable<Tunnel['joints']>[number]
export type Lens = z.infer<typeof lens>
export type Element = z.infer<typeof element>
export type Cover = Extract<Element, { kind: 'cover' }>
export type DiffuserFilm = Extract<Element, { kind: 'diffuser' }>
export type FresnelLens = Extract<Lens, { kind: 'fresnel' }>
export type SolidLens = Extract<Lens, { kind: 'solid' }>
export type LensMaterial = FresnelLens['material']
export type RefractingLens = FresnelLens | SolidLens
export type Target = z.infer<typeof part.target>
export type Profile = z.infer<typeof part.profile>
export type Spectrum = z.infer<typeof part.spectrum>
export type Reading = z.infer<typeof part.reading>
export type Heat = z.infer<typeof part.heat>
export type BoardThermal = z.infer<typeof supply.boardThermal>
export type Cooling = z.infer<typeof supply.cooling>
export type Sink = Cooling['sink']
export type Power = z.infer<typeof supply.power>
export type Driver = z.infer<typeof supply.driver>
export type Group = z.infer<typeof supply.group>
export type Supply = z.infer<typeof supply.supply>
export type Pack = Extract<Supply, { kind: 'pack' }>
export type Harness = z.infer<typeof supply.harness>
export type Gauge = z.infer<typeof supply.gauge>
export type Protection = NonNullable<Power['protection']>
export type Workshop = z.infer<typeof workshop>
export type Tolerances = z.infer<typeof tolerances>
export type ToleranceName = keyof Tolerances
export type Tolerance = NonNullable<Tolerances[ToleranceName]>
export type BoardHole = z.infer<typeof boardHole>
export type Mode = z.infer<typeof supply.mode>
