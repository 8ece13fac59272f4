// What a lamp must do, and what is at hand for it: the input of a search for whole lamps.
import { LIMITS } from '../../lamp/limits.ts'
import * as z from '../../lamp/zod.ts'
import { EMITTERS } from '../../library/emitters.ts'

const positive = (most: number) => z.number().gt(0).max(most)

const wishSchema = z.strictObject({
  name: z.string().min(1).max(100).optional(),
  /** On the axis, far away; or illuminance at a distance. */
  candela: positive(1e10).optional(),
  /** On the middle of the target; the mean over it where it has a size. */
  lux: positive(1e7).optional(),
  distanceM: positive(100_000).optional(),
  /** Side of the square that is to be lit. */
  sizeM: positive(100_000).optional(),
  /** At full light. */
  minutes: positive(100_000).optional(),
  /** Greatest length, sink and lens included; greatest width; greatest mass, supply included. */
  lengthMm: positive(LIMITS.lengthMm).optional(),
  widthMm: positive(LIMITS.lensMm).optional(),
  massKg: positive(10_000).optional(),
  /** Id of a class of the library. */
  emitter: z.enum(EMITTERS.map((e) => e.id)).optional(),
  emitters: z.int().min(1).max(LIMITS.emitters).optional(),
  lens: z
    .strictObject({ focalMm: z.number().min(10).max(LIMITS.lengthMm), sizeMm: z.number().min(10).max(LIMITS.lensMm) })
    .optional(),
  /** A bin or a tube that can be lined as a tunnel. */
  tunnel: z
    .strictObject({
      acrossMm: z.number().min(20).max(LIMITS.lensMm),
      lengthMm: z.number().min(20).max(LIMITS.lengthMm),
    })
    .optional(),
  /** Of typical lithium cells. */
  pack: z.strictObject({ series: z.int().min(3).max(14), parallel: z.int().min(1).max(1000) }).optional(),
})

export type Wish = z.infer<typeof wishSchema>
export type ReadWish = { ok: true; wish: Wish } | { ok: false; why: string }

/** A wish out of JSON, or in one sentence why it is none. */
export function readWish(json: unknown): ReadWish {
  const parsed = wishSchema.safeParse(json)
  if (!parsed.success) {
    const [issue] = parsed.error.issues
    return { ok: false, why: `${issue?.path.join('.') || 'The wish'}: ${issue?.message ?? 'it does not fit'}.` }
  }
  const why = wishFault(parsed.data)
  return why === null ? { ok: true, wish: parsed.data } : { ok: false, why }
}

function wishFault({ candela, lux, distanceM, sizeM }: Wish): string | null {
  if (candela === undefined && lux === undefined) return 'The wish says no light: give candela, or lux and a distance.'
  if (candela !== undefined && lux !== undefined)
    return 'Candela and lux both stand in the wish; one of them is enough.'
  if (lux !== undefined && distanceM === undefined) return 'Lux needs the distance of the target.'
  if (sizeM !== undefined && distanceM === undefined) return 'The size of the target needs its distance.'
  return null
}

/** cd on the axis: I = E · d² (inverse square law). */
export const wantedCd = ({ candela, lux = 0, distanceM = 0 }: Wish): number => candela ?? lux * distanceM ** 2

/** Full angle, degrees, in which the target is seen from the lamp; null: no size is wished. */
export function targetDeg({ sizeM, distanceM }: Wish): number | null {
  if (sizeM === undefined || distanceM === undefined) return null
  return (2 * Math.atan(sizeM / (2 * distanceM)) * 180) / Math.PI
}
