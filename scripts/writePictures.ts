// Writes the handbook's pictures. tests/app/handbook keeps them current.
import { mkdirSync, writeFileSync } from 'node:fs'
import { handbookPictures } from './handbookPictures.ts'

declare const __ROOT__: string
const folder = `${__ROOT__}/src/app/handbook/pages/pictures`
mkdirSync(folder, { recursive: true })
for (const [name, svg] of Object.entries(await handbookPictures())) writeFileSync(`${folder}/${name}.svg`, svg)
