// Writes shaders/lib from the tables of src: npm run shaders.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { libraryText } from '../src/engine/gpu/tablesText.ts'

declare const __ROOT__: string

for (const [name, text] of Object.entries(libraryText())) writeFileSync(join(__ROOT__, 'shaders/lib', name), text)
