// What npm run wasm writes is current: the sources made from tables of src, and the modules as text.
import { expect, test } from 'vitest'
import { compileWasm, textPath, WASM_MODULES, wasmText } from '../scripts/compileWasm.ts'
import { ROOT, textOf } from './architecture/tree.ts'
import { amount } from './kit/amount.ts'

// The short suite compares the fingerprint of sources and module, the long one compiles (six seconds).
test.each(WASM_MODULES)(
  '$folder',
  async (module) => {
    for (const [path, text] of Object.entries(module.made)) expect(textOf(`${path}.as`)).toBe(text)
    const written = textOf(textPath(module))
    const base64 = await amount(
      async () => /'(.*)'/.exec(written)?.[1] ?? '',
      () => compileWasm(ROOT, module),
    )()
    expect(written).toBe(wasmText(ROOT, module, base64))
  },
  60_000,
)
