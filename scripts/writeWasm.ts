// Writes src/engine/forward/wasm/constants.as from the tables of src, and kernelText.ts from the kernel's sources: npm run wasm.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { constantsText } from '../src/engine/forward/wasm/constantsText.ts'
import { compileWasm, WASM_FOLDER, wasmText } from './compileWasm.ts'

declare const __ROOT__: string

const constants = constantsText()
writeFileSync(join(__ROOT__, WASM_FOLDER, 'constants.as'), constants)
const base64 = Buffer.from(await compileWasm(__ROOT__, constants)).toString('base64')
writeFileSync(join(__ROOT__, WASM_FOLDER, 'kernelText.ts'), wasmText(__ROOT__, constants, base64))
