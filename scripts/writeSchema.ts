// Writes public/lamp.schema.json (JSON Schema 2020-12) from the zod schema. tests/architecture/generated.test.ts keeps it current.
import { writeFileSync } from 'node:fs'
import { jsonSchemaText } from '../src/lamp/jsonSchema.ts'

declare const __ROOT__: string
writeFileSync(`${__ROOT__}/public/lamp.schema.json`, jsonSchemaText())
