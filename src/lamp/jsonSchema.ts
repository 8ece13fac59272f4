import { lampSchema } from './schema.ts'
import * as z from './zod.ts'

/** The published JSON Schema of the lamp document, as text. */
export const jsonSchemaText = (): string =>
  `${JSON.stringify({ title: 'Lampwright lamp document', ...z.toJSONSchema(lampSchema) }, null, 1)}\n`
