// Writes public/examples/<id>.lamp.json from src/library/demos.ts. tests/architecture/generated.test.ts keeps them current.
import { mkdirSync, writeFileSync } from 'node:fs'
import { writeLampText } from '../src/lamp/read.ts'
import { DEMOS } from '../src/library/demos.ts'

declare const __ROOT__: string
const folder = `${__ROOT__}/public/examples`
mkdirSync(folder, { recursive: true })
for (const [id, lamp] of Object.entries(DEMOS)) writeFileSync(`${folder}/${id}.lamp.json`, writeLampText(lamp()))
