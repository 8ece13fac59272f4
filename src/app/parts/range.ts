// Limits of fields, from the schema, which is the only table of limits.
import type { z } from 'zod'
import type { Range } from '../common/units.ts'

export function rangeOf(schema: z.ZodNumber): Range {
  return { min: schema.minValue ?? -Infinity, max: schema.maxValue ?? Infinity, integer: schema.isInt }
}
