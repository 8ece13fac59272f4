// Input of the danger sheet: own thresholds, things in the beam, the lamp's place in the sun. All of it may be absent.
import * as z from './zod.ts'

/** What an object in the beam may be made of; names and sources in src/library/thresholds.ts. */
export const MATERIAL_IDS = [
  'skin',
  'dry-grass',
  'paper',
  'dark-cloth',
  'timber',
  'lit-surface',
  'black-plastic',
  'pvc',
  'synthetic-cloth',
  'polyethylene',
  'car-paint',
] as const

const materialId = z.enum(MATERIAL_IDS)

/** Something in front of the lamp. */
const thingInTheWay = z.strictObject({
  name: z.string().min(1).max(80),
  material: materialId,
  /** From the lamp's front. */
  distanceMm: z.number().min(0).max(1_000_000),
  /** Share of the light that it takes in. */
  absorbs: z.number().min(0).max(1),
})

/** Where and when the lamp lies in the sun, and where its lens points. */
const sunPlace = z.strictObject({
  latitudeDeg: z.number().min(-90).max(90),
  month: z.int().min(1).max(12),
  day: z.int().min(1).max(31),
  /** Height above the sea: the air above is thinner. */
  heightM: z.number().min(0).max(6000),
  /** Of the lamp's axis above the horizon: 90 lies on its back. */
  lensUpDeg: z.number().min(-90).max(90),
  /** Where the axis points by the compass, from north over east. */
  lensTowardsDeg: z.number().min(0).max(360),
  /** clear-sky: by formula from the sun's height; flat: the lamp's own `sunWm2` all day. */
  strength: z.enum(['clear-sky', 'flat']),
})

export const danger = z.strictObject({
  /** Irradiance, kW/m², that stands in for the published one. */
  thresholdsKWm2: z.partialRecord(materialId, z.number().min(0.01).max(1000)).optional(),
  /** Distances from the front at which times to harm are read, mm. */
  askedMm: z.array(z.number().min(1).max(1_000_000)).max(20).optional(),
  things: z.array(thingInTheWay).max(20).optional(),
  sun: sunPlace.optional(),
})

export type MaterialId = (typeof MATERIAL_IDS)[number]
export type ThingInTheWay = z.infer<typeof thingInTheWay>
export type SunPlace = z.infer<typeof sunPlace>
export type DangerChoices = z.infer<typeof danger>
