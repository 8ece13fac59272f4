// Writes the WebAssembly modules as text, and first the sources that are made from the tables of src: npm run wasm.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { compileWasm, textPath, WASM_MODULES, wasmText } from './compileWasm.ts'

declare const __ROOT__: string

for (const module of WASM_MODULES) {
  for (const [path, text] of Object.entries(module.made)) writeFileSync(join(__ROOT__, `${path}.as`), text)
  writeFileSync(join(__ROOT__, textPath(module)), wasmText(__ROOT__, module, await compileWasm(__ROOT__, module)))
}
