// The WebAssembly modules from their sources, as bytes and as text.
import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import asc from 'assemblyscript/asc'
import { backwardConstants } from '../src/engine/backward/wasm/constantsText.ts'
import { constantsText } from '../src/engine/forward/wasm/constantsText.ts'
import { opticsConstants } from '../src/optics/wasm/constantsText.ts'

interface WasmModule {
  /** Of its sources and its text. */
  folder: string
  /** The source that is compiled, without its ending; the others are what it imports. */
  entry: string
  /** What its text exports. */
  name: string
  flags: readonly string[]
  /** A folder of sources that other modules are made of as well. */
  shared?: string
  /** Sources that are made from tables of src, by path without ending, and their text. */
  made: Readonly<Record<string, string>>
}

const OPTICS = 'src/optics/wasm'
const FORWARD = 'src/engine/forward/wasm'
const BACKWARD = 'src/engine/backward/wasm'

const FLAGS = ['-O3', '--converge', '--noAssert', '--runtime', 'stub', '--importMemory']

export const WASM_MODULES: readonly WasmModule[] = [
  {
    ...{ folder: FORWARD, entry: 'kernel', name: 'KERNEL', flags: FLAGS, shared: OPTICS },
    made: { [`${OPTICS}/constants`]: opticsConstants(), [`${FORWARD}/constants`]: constantsText() },
  },
  {
    ...{ folder: BACKWARD, entry: 'kernel', name: 'BACKWARD', flags: FLAGS, shared: OPTICS },
    made: { [`${OPTICS}/constants`]: opticsConstants(), [`${BACKWARD}/constants`]: backwardConstants() },
  },
  {
    folder: 'src/hazard/wasm',
    ...{ entry: 'planes', name: 'PLANES', flags: [...FLAGS, '--enable', 'simd'] },
    made: {},
  },
  {
    folder: 'src/hazard/air/wasm',
    ...{ entry: 'grid', name: 'GRID', flags: [...FLAGS, '--enable', 'simd'] },
    made: {},
  },
]

export const textPath = ({ folder, entry }: WasmModule): string => `${folder}/${entry}Text.ts`

/** Base64. `root`: the repository. */
export async function compileWasm(root: string, { folder, entry, flags, made }: WasmModule): Promise<string> {
  let bytes: Uint8Array | null = null
  const { error, stderr } = await asc.main([`${folder}/${entry}.ts`, ...flags, '-o', `${entry}.wasm`], {
    // The compiler asks for .ts; on disk they end in .as, since TypeScript can't read them.
    readFile(file: string) {
      const name = file.replace(/\.ts$/, '')
      if (made[name] !== undefined) return made[name]
      try {
        return readFileSync(join(root, `${name}.as`), 'utf8')
      } catch {
        return null
      }
    },
    writeFile(_name: string, contents: string | Uint8Array) {
      if (typeof contents !== 'string') bytes = contents
    },
    listFiles: () => [],
  })
  if (error || !bytes) throw new Error(`${folder} does not compile to WebAssembly: ${stderr.toString()}`)
  return Buffer.from(bytes).toString('base64')
}

/** SHA-256 of what the module is made from and of the module: sources by path, flags, the compiler's version, base64. */
function fingerprint(root: string, { folder, flags, shared, made }: WasmModule, base64: string): string {
  const hash = createHash('sha256')
  for (const path of [folder, ...(shared ? [shared] : [])].flatMap((from) => sourcesIn(root, from)))
    if (made[path] === undefined) hash.update(`${path}\n${readFileSync(join(root, `${path}.as`), 'utf8')}`)
  const { version } = JSON.parse(readFileSync(join(root, 'node_modules/assemblyscript/package.json'), 'utf8'))
  return hash.update([...Object.values(made), ...flags, version, base64].join('\n')).digest('hex')
}

const sourcesIn = (root: string, folder: string): string[] =>
  readdirSync(join(root, folder))
    .filter((name) => name.endsWith('.as'))
    .sort()
    .map((name) => `${folder}/${name.replace(/\.as$/, '')}`)

/** The text of the module's file in src. */
export function wasmText(root: string, module: WasmModule, base64: string): string {
  const { entry, name } = module
  const made = `// Written by npm run wasm from ${entry}.as and what it imports. Not to be edited.\n// ${fingerprint(root, module, base64)}`
  return `${made}\n\n/** The module, base64. */\nexport const ${name} =\n  '${base64}'\n`
}
