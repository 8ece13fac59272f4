// The WebAssembly kernel from its sources, as bytes.
import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
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

/** SHA-256 of what the module is made from and of the module: sources by name, constants, flags, the compiler's version, base64. */
function fingerprint(root: string, constants: string, base64: string): string {
  const folder = join(root, WASM_FOLDER)
  const hash = createHash('sha256')
  for (const name of readdirSync(folder).sort())
    if (name.endsWith('.as') && name !== 'constants.as')
      hash.update(`${name}\n${readFileSync(join(folder, name), 'utf8')}`)
  const { version } = JSON.parse(readFileSync(join(root, 'node_modules/assemblyscript/package.json'), 'utf8'))
  return hash.update([constants, ...FLAGS, version, base64].join('\n')).digest('hex')
}

/** The text of kernelText.ts. */
export function wasmText(root: string, constants: string, base64: string): string {
  const made = `// Written by npm run wasm from kernel.as and what it imports. Not to be edited.\n// ${fingerprint(root, constants, base64)}`
  return `${made}\n\n/** The module, base64. */\nexport const KERNEL =\n  '${base64}'\n`
}
