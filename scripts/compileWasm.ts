// The WebAssembly kernel from its sources, as bytes.
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import asc from 'assemblyscript/asc'

export const WASM_FOLDER = 'src/engine/forward/wasm'

const FLAGS = ['-O3', '--converge', '--noAssert', '--runtime', 'stub', '--importMemory']

/** `root`: the repository. `constants`: the text of constants.as. */
export async function compileWasm(root: string, constants: string): Promise<Uint8Array> {
  let bytes: Uint8Array | null = null
  const { error, stderr } = await asc.main(['kernel.ts', ...FLAGS, '-o', 'kernel.wasm'], {
    // The compiler asks for .ts; on disk they end in .as, since TypeScript can't read them.
    readFile(name: string) {
      if (name === 'constants.ts') return constants
      try {
        return readFileSync(join(root, WASM_FOLDER, name.replace(/\.ts$/, '.as')), 'utf8')
      } catch {
        return null
      }
    },
    writeFile(_name: string, contents: string | Uint8Array) {
      if (typeof contents !== 'string') bytes = contents
    },
    listFiles: () => [],
  })
  if (error || !bytes) throw new Error(`the WebAssembly kernel does not compile: ${stderr.toString()}`)
  return bytes
}

export const wasmText = (bytes: Uint8Array): string =>
  `// Written by npm run wasm from kernel.as and what it imports. Not to be edited.\n\n/** The module, base64. */\nexport const KERNEL =\n  '${Buffer.from(bytes).toString('base64')}'\n`
