// The schema of a lamp's tolerances: how far what is built may lie from what is drawn. No light is read of them; a run over many built lamps is.
import { LIMITS } from './limits.ts'
import * as z from './zod.ts'

/** Of a normal distribution ± is two standard deviations; of a uniform one its ends; measured: each deviation is as likely as the others. */
const tolerance = (most: number) => {
  const plusMinus = z.number().min(0).max(most)
  const on = z.boolean()
  return z
    .discriminatedUnion('spread', [
      z.strictObject({ on, spread: z.literal('normal'), plusMinus }),
      z.strictObject({ on, spread: z.literal('uniform'), plusMinus }),
      z.strictObject({
        on,
        spread: z.literal('measured'),
        /** From what is drawn, in the tolerance's own unit. */
        deviations: z.array(z.number().min(-most).max(most)).min(1).max(LIMITS.tableRows),
      }),
    ])
    .optional()
}

/** Shares are of 1, of the drawn value; absent: as drawn. */
export const tolerances = z.strictObject({
  /** The lens, with the tunnel's end, along the axis. */
  lensDistanceMm: tolerance(100),
  /** Of the lens, about its x and its y, each. */
  lensTiltDeg: tolerance(15),
  lensDecentreMm: tolerance(100),
  /** Of a solid lens: its radius of curvature. */
  focalShare: tolerance(0.5),
  /** Of every board by itself, along x and y, each. */
  boardPlaceMm: tolerance(20),
  /** Of every optic by itself, about its x and its y, each. */
  aimDeg: tolerance(15),
  /** Of every type of collimator: full width at half. */
  fwhmShare: tolerance(0.5),
  /** Of every type of emitter: all of them alike, as from one lot. */
  lotFluxShare: tolerance(0.9),
  /** Of every board by itself, over that. */
  boardFluxShare: tolerance(0.9),
  /** Of the tunnel's wall, added to its reflectance, which stays between 0 and 1. */
  wallReflectance: tolerance(0.5),
  /** Of every board's current by itself. */
  currentShare: tolerance(0.5),
})
