// The schema of the tunnel: a profile of stretches, one behind the other.
import { LIMITS } from './limits.ts'
import * as z from './zod.ts'

const share = z.number().min(0).max(1)
const widthMm = z.number().min(1).max(LIMITS.lensMm)
const nm = z.number().min(300).max(830)

/** What a stretch's wall does with light. */
const finish = {
  /** Where `reflectanceByNm` stands: its mean over white light, for words and estimates. */
  reflectance: share,
  specularShare: share,
  /** Standard deviation of each of the two slopes about the mirror direction. */
  scatterDeg: z.number().min(0).max(30),
  /** Reflectance over the wavelength, rising, linear in between, constant beyond its ends. */
  reflectanceByNm: z
    .array(z.strictObject({ nm, reflectance: share }))
    .min(1)
    .max(LIMITS.tableRows)
    .optional(),
  /** Name of the finish, as the library or the builder calls it; nothing is read from it. */
  finish: z.string().max(120).optional(),
}

/** The end of one stretch and the beginning of the next; where their sizes differ there is a step, a wall square to the axis. */
const joint = z.strictObject({
  zMm: z.number().min(0).max(LIMITS.lengthMm),
  belowMm: widthMm,
  aboveMm: widthMm,
  /** Of a rectangle: along y, where the others are along x. */
  belowHeightMm: widthMm.optional(),
  aboveHeightMm: widthMm.optional(),
  /** Of the stretch above. A step has the finish of the wider of its two stretches. */
  ...finish,
})

export const tunnel = z.strictObject({
  /** 0: round; otherwise a regular polygon of so many sides, sizes across flats, first flat facing +x. */
  sides: z.union([z.literal(0), z.int().min(3).max(24)]),
  inMm: widthMm,
  outMm: widthMm,
  /** With both, the section is a rectangle (four sides): inMm and outMm along x, these along y. */
  inHeightMm: widthMm.optional(),
  outHeightMm: widthMm.optional(),
  zInMm: z.number().min(0).max(LIMITS.lengthMm),
  zOutMm: z.number().min(0.1).max(LIMITS.lengthMm),
  /** Of the first stretch. */
  ...finish,
  /** Rising in z, between zInMm and zOutMm. */
  joints: z.array(joint).max(LIMITS.joints).optional(),
})
