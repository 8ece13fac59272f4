// The schema of the lens, and of the further elements in front of it and behind it.
import { LIMITS } from './limits.ts'
import { BUILT_IN_MATERIALS, ownMaterial } from './material.ts'
import * as z from './zod.ts'

const offsetMm = z.number().min(-LIMITS.lensMm).max(LIMITS.lensMm).optional()
const tiltDeg = z.number().min(-60).max(60).optional()
const sizeMm = z.number().min(1).max(LIMITS.lensMm)
const share = z.number().min(0).max(1)

const zMm = z.number().min(1).max(LIMITS.lengthMm)
const focalMm = z.number().min(1).max(LIMITS.lengthMm)
const aperture = z.enum(['round', 'square', 'rectangle'])

/** What is cut out, and how it stands: moved, tilted about its own x, then its own y, turned about its own z, right-handed. */
const piece = {
  /** Diameter, the side of a square, or the width of a rectangle. */
  diameterMm: sizeMm,
  /** Of a rectangle: along its y. */
  heightMm: sizeMm.optional(),
  decentreXMm: offsetMm,
  decentreYMm: offsetMm,
  tiltXDeg: tiltDeg,
  tiltYDeg: tiltDeg,
  turnDeg: z.number().min(-360).max(360).optional(),
}
/** Where the optical axis goes through the piece's own frame, whose origin is the piece's middle; it may lie beside the piece. */
const centre = { centreXMm: offsetMm, centreYMm: offsetMm }

/** 'own': the lens's `ownMaterial`. */
const lensMaterial = z.enum([...BUILT_IN_MATERIALS, 'own'])
const materialOf = { material: lensMaterial, ownMaterial: ownMaterial.optional() }

const fresnel = {
  kind: z.literal('fresnel'),
  /** The plane that the focal length is measured from: flat side (grooves to the target) or groove valleys (to the source). */
  zMm,
  focalMm,
  ...piece,
  ...centre,
  aperture,
  /** From the flat side to the groove valleys. */
  thicknessMm: z.number().min(0.1).max(100),
  pitchMm: z.number().min(0.05).max(100),
  grooves: z.enum(['target', 'source']),
  draftDeg: z.number().min(0).max(30),
  /** Share of the pitch that scatters, for rounded tips. */
  tipShare: z.number().min(0).max(0.5),
  ...materialOf,
  /** Wavelength the facets are cut for. */
  designNm: z.number().min(380).max(780),
  /** Material the facets were cut for, whose shape they keep; absent: the lens's own. */
  cutFor: lensMaterial.optional(),
}

const solid = {
  kind: z.literal('solid'),
  /** The plane of the flat side. */
  zMm,
  ...piece,
  ...centre,
  /** Absent: round. */
  aperture: aperture.optional(),
  /** Radius of the curved side at its vertex. */
  radiusMm: z.number().min(1).max(LIMITS.lengthMm),
  /** Conic constant: 0 a sphere, -1 a paraboloid. */
  conic: z.number().min(-10).max(2),
  /** On the optical axis, from the flat side to the vertex. */
  thicknessMm: z.number().min(0.1).max(500),
  curved: z.enum(['target', 'source']),
  ...materialOf,
}

const ideal = { kind: z.literal('ideal'), zMm, focalMm, ...piece, ...centre, aperture: aperture.optional() }

export const lens = z.discriminatedUnion('kind', [
  z.strictObject(fresnel),
  z.strictObject(solid),
  z.strictObject(ideal),
])

const named = { name: z.string().min(1).max(120) }

export const element = z.discriminatedUnion('kind', [
  z.strictObject({ ...named, ...fresnel }),
  z.strictObject({ ...named, ...solid }),
  z.strictObject({ ...named, ...ideal }),
  /** A plane parallel plate; zMm: its side towards the source. */
  z.strictObject({
    ...named,
    kind: z.literal('cover'),
    zMm,
    ...piece,
    aperture,
    thicknessMm: z.number().min(0.1).max(100),
    ...materialOf,
    /** Of a coated surface, at every angle and wavelength; absent: plain surfaces, by Fresnel. */
    surfaceReflectance: share.optional(),
  }),
  /** A thin film; what it neither passes nor reflects it absorbs. */
  z.strictObject({
    ...named,
    kind: z.literal('diffuser'),
    zMm,
    ...piece,
    aperture,
    /** Standard deviation of each of the two slopes about the ray's direction. */
    spreadDeg: z.number().min(0).max(45),
    transmittance: share,
    reflectance: share,
  }),
])
