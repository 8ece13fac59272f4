// The schema of what the builder's own workshop adds to the lamp: cutter, sheets, printer, paper, fasteners, prices. All of it is optional
// in a document; what is missing is taken as typical (src/library/typicalWorkshop.ts) and said on the drawings. No light is read of it.
import { LIMITS } from './limits.ts'
import * as z from './zod.ts'

const text = z.string().max(120)
const thicknessMm = z.number().min(0.05).max(50)
const screwMm = z.number().min(1).max(20)

export const workshop = z.strictObject({
  /** For the title block of drawings and the book. */
  drawnBy: text.optional(),
  paper: z.enum(['A4', 'Letter']).optional(),
  /** Width that the cutter takes away. */
  kerfMm: z.number().min(0).max(10).optional(),
  /** Largest sheet at hand. */
  sheetMm: z
    .strictObject({ widthMm: z.number().min(10).max(10_000), heightMm: z.number().min(10).max(10_000) })
    .optional(),
  tunnelThicknessMm: thicknessMm.optional(),
  /** Of the tunnel's sheet, for its mass. */
  tunnelDensityKgM3: z.number().min(10).max(25_000).optional(),
  tunnelMaterial: text.optional(),
  /** How a blank is closed: edge on edge, or over a flap that is glued or riveted. */
  seam: z
    .discriminatedUnion('kind', [
      z.strictObject({ kind: z.literal('butt') }),
      z.strictObject({ kind: z.literal('flap'), widthMm: z.number().min(1).max(200) }),
    ])
    .optional(),
  /** Neutral line of a bend, from the inside, over the thickness: the K factor of sheet-metal work. */
  bendK: z.number().min(0).max(0.5).optional(),
  /** The ring that holds the lens, and the stand-offs between it and the face. */
  lensRing: z
    .strictObject({
      /** From the lens's edge outwards. */
      widthMm: z.number().min(1).max(500),
      /** How far it covers the lens's edge. */
      lipMm: z.number().min(0).max(100),
      heightMm: z.number().min(1).max(200),
      screws: z.int().min(2).max(48),
      screwMm,
    })
    .optional(),
  /** Screws of a board; where its type has no holes, they aren't drawn. */
  boardScrewMm: screwMm.optional(),
  printer: z
    .strictObject({
      bedXMm: z.number().min(20).max(2000),
      bedYMm: z.number().min(20).max(2000),
      bedZMm: z.number().min(20).max(2000),
      wallMm: z.number().min(0.3).max(50),
      clearanceMm: z.number().min(0).max(5),
      densityKgM3: z.number().min(100).max(20_000),
    })
    .optional(),
  /** Sign or name of the money that the prices are in. */
  currency: z.string().max(12).optional(),
  /** By the parts list's own key, for one piece (or metre, where the list counts metres). */
  prices: z.record(z.string().max(120), z.number().min(0).max(1e7)).optional(),
  /** Mass of one piece, where the builder has weighed it: by the parts list's key. */
  massG: z.record(z.string().max(120), z.number().min(0).max(1e7)).optional(),
})

/** Screw holes of a board, in its own frame. */
export const boardHole = z.strictObject({
  xMm: z.number().min(-LIMITS.lengthMm).max(LIMITS.lengthMm),
  yMm: z.number().min(-LIMITS.lengthMm).max(LIMITS.lengthMm),
  diameterMm: z.number().min(0.5).max(50),
})
