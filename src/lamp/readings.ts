// The schema of what was measured on the built lamp. No light, heat or current is read of it: the lamp as designed stays what is traced.
import { LIMITS } from './limits.ts'
import * as z from './zod.ts'

const text = z.string().max(200)
const lx = z.number().min(0).max(1e9)
const percent = z.number().min(0).max(100)
const distanceM = z.number().min(0.05).max(10_000)
const placeMm = z.number().min(-1e6).max(1e6)
const seconds = z.number().min(0).max(1e7)
const celsius = z.number().min(-60).max(500)
const volts = z.number().min(0).max(2000)
const rows = <A extends z.ZodType>(row: A) => z.array(row).max(LIMITS.readingRows)

const meter = z.strictObject({
  name: text.optional(),
  /** Quality class of DIN 5032-7; absent: taken as C. What is stated below goes before it. */
  class: z.enum(['A', 'B', 'C']).optional(),
  /** Of its certificate, expanded (k = 2). */
  calibrationPct: percent.optional(),
  /** Spectral mismatch f1′ and directional error f2, as stated. */
  spectralPct: percent.optional(),
  cosinePct: percent.optional(),
  /** Last digit, and the most that it shows. */
  resolutionLx: lx.optional(),
  maxLx: lx.optional(),
})

/** Which way the meter looks: flat on the wall, or turned to the lamp. */
const faces = z.enum(['wall', 'lamp'])

const common = {
  id: z
    .string()
    .min(1)
    .max(60)
    .regex(/^[\w .+-]+$/, 'letters, digits, space, and . _ + - only'),
  /** When it was read: a date or any words. */
  when: text.optional(),
  note: text.optional(),
  /** One of the lamp's modes, and how long after switch-on; absent: the light that the lamp is traced with. */
  mode: text.optional(),
  afterS: seconds.optional(),
  ambientC: celsius.optional(),
  /** Read with the lamp off or covered; it is subtracted. */
  strayLx: lx.optional(),
  /** Absent: the meter of all sets. */
  meter: meter.optional(),
}

/** On a wall square to the axis. `aimed`: 0 lies on the lamp's own axis, or on the brightest place. */
const onWall = {
  /** From the lamp's front. */
  distanceM,
  faces,
  aimed: z.enum(['axis', 'brightest']),
  /** How far a reading may lie from the place that is written down, and the zero from where it should be (standard uncertainties). */
  placeDoubtMm: z.number().min(0).max(10_000).optional(),
  distanceDoubtMm: z.number().min(0).max(100_000).optional(),
}

/** Of a grid that a camera read: what all its places share beside the meter, as standard uncertainties. */
const picture = z.strictObject({
  /** The meter's reading that sets the scale, and what is open in it beside the meter's own scale. */
  readLx: lx.min(1e-6),
  readPct: percent,
  /** Of the exponent of the camera's curve: at light e times as bright as at the reading, so large a share. */
  curve: z.number().min(0).max(2),
  /** Light that the camera's lens spreads over the whole picture. */
  glareLx: lx,
  /** Places that were brighter than could be read: they have no row. */
  burntOut: z.number().int().min(1).max(LIMITS.readingRows).optional(),
})

const readingSet = z.discriminatedUnion('kind', [
  z.strictObject({
    ...common,
    ...onWall,
    kind: z.literal('line'),
    /** Across: +x, to the right seen from the wall towards the lamp; up: +y. */
    along: z.enum(['across', 'up']),
    rows: rows(z.strictObject({ atMm: placeMm, lx })),
  }),
  z.strictObject({
    ...common,
    ...onWall,
    kind: z.literal('grid'),
    rows: rows(
      z.strictObject({
        xMm: placeMm,
        yMm: placeMm,
        lx,
        /** Of this place by itself, standard uncertainty; absent: what the meter leaves open. */
        doubtPct: percent.optional(),
        /** What one standard uncertainty of the camera lens's shading changes here, against the place of the lux reading. */
        shadePct: z.number().min(-100).max(100).optional(),
      }),
    ),
    picture: picture.optional(),
  }),
  z.strictObject({
    ...common,
    kind: z.literal('axis'),
    distanceDoubtMm: onWall.distanceDoubtMm,
    rows: rows(z.strictObject({ distanceM, lx })),
  }),
  z.strictObject({ ...common, kind: z.literal('time'), rows: rows(z.strictObject({ atS: seconds, lx })) }),
  /** The same place lit by a lamp of known lumens and by this one, bounced off a ceiling or in a white box. */
  z.strictObject({
    ...common,
    kind: z.literal('bounce'),
    knownLm: z.number().min(0.1).max(1e7),
    /** Expanded (k = 2). */
    knownDoubtPct: percent,
    rows: rows(z.strictObject({ knownLx: lx, lx })),
  }),
  /** A mode as it runs: plate, board, pack. What was not read is absent. */
  z.strictObject({
    ...common,
    kind: z.literal('running'),
    /** Where the plate's thermocouple sits on its front; absent: somewhere. */
    plateAt: z.strictObject({ xMm: placeMm, yMm: placeMm }).optional(),
    /** The board that `boardC` was read on, beside an emitter; absent: the hottest. */
    board: z.string().min(1).max(60).optional(),
    rows: rows(
      z.strictObject({
        atS: seconds,
        plateC: celsius.optional(),
        boardC: celsius.optional(),
        packV: volts.optional(),
        packA: z.number().min(0).max(10_000).optional(),
        /** Where the main wires end: at the drivers' input. */
        lampV: volts.optional(),
      }),
    ),
  }),
])

export const readings = z.strictObject({
  meter: meter.optional(),
  sets: z.array(readingSet).max(LIMITS.readingSets),
})

export type Readings = z.infer<typeof readings>
export type ReadingSet = z.infer<typeof readingSet>
export type Meter = z.infer<typeof meter>
type SetOf<K extends ReadingSet['kind']> = Extract<ReadingSet, { kind: K }>
export type LineSet = SetOf<'line'>
export type GridSet = SetOf<'grid'>
export type AxisSet = SetOf<'axis'>
export type TimeSet = SetOf<'time'>
export type BounceSet = SetOf<'bounce'>
export type RunningSet = SetOf<'running'>

/** What one field can't say alone: each set a name of its own, modes and boards that there are. */
export function findReadingFaults(
  readings: Readings | undefined,
  modes: readonly string[],
  boards: readonly string[],
): string[] {
  const why: string[] = []
  const seen = new Set<string>()
  for (const [i, set] of (readings?.sets ?? []).entries()) {
    if (seen.has(set.id)) why.push(`readings.sets[${i}].id: "${set.id}" stands twice; each needs a name of its own.`)
    seen.add(set.id)
    if (set.mode !== undefined && !modes.includes(set.mode))
      why.push(
        `readings.sets[${i}].mode: no mode called "${set.mode}"; there is ${modes.join(', ') || 'none: the lamp has no power entry'}.`,
      )
    if (set.kind === 'running' && set.board !== undefined && !boards.includes(set.board))
      why.push(`readings.sets[${i}].board: no board called "${set.board}".`)
  }
  return why
}
